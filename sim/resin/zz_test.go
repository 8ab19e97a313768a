package resin
import ("testing";"brinebench/sim/water")
func TestZZ(t *testing.T){
 for _,d := range []float64{3,4,5,6,10,15}{
  sett(t,d,func(c *cycle){c.coarse=4})
  sett(t,d,func(c *cycle){c.coarse=4;c.counter=true})
 }
 for _,d := range []float64{6,10}{
  t.Log("KCl")
  c:=sett(t,d,func(c *cycle){c.coarse=4;c.potassium=true})
  t.Log(c.state.Plenum, water.K)
 }
 for _,T := range []float64{5,20,35}{
  t.Log("T",T)
  sett(t,10,func(c *cycle){c.coarse=4;c.tempC=T})
  t.Log("Tfast",T)
  sett(t,10,func(c *cycle){c.coarse=4;c.tempC=T;c.serviceGPMFt3=5})
 }
 for _,N := range []float64{0.5,2,8}{ for _,d := range []float64{6,10,15} { t.Log("Na",N); sett(t,d,func(c *cycle){c.coarse=4;c.feed[water.Na]=N})}}
}
func sett(t *testing.T, salt float64, ch func(*cycle)) *cycle {
	c := newCycle(DefaultSpec(ft3, 0.041), salt)
	ch(c)
	c.model.Equilibrate(&c.state, c.feed)
	n:=0
	for n=range 14 { last:=c.capacity; c.regenerate(); c.serve(); if d:=c.capacity-last; d*d<1e-6*c.capacity*c.capacity {break} }
	t.Logf("%g lb (counter %v): %.2f kgr, leak %.3f, %.0f gr/lb n %d", salt, c.counter, c.capacity, c.leak, 1000*c.capacity/salt, n)
	return c
}
