package resin

import (
	"brinebench/sim/water"
)

const (
	gpg         = 0.1710319837 // mol/m³ of hardness
	grainsEq    = 21.8688      // kilograin/ft³ in 1 mol of charge per litre of bed
	lbFt3       = 16018.463    // g/m³ in 1 lb/ft³
	ft3         = 0.0283168466 // m³
	gpmFt3      = 2.2280093e-3 // bed volumes per second in 1 US gpm/ft³
	saltGPerMol = 58.44
)

// hard20 is 20 gpg water, two thirds calcium, with a little sodium.
var hard20 = water.Ions{water.Na: 2, water.Ca: 20 * gpg * 2 / 3, water.Mg: 20 * gpg / 3}

// cycle is one round of co-current regeneration and service of a bed.
type cycle struct {
	model              *Model
	state              State
	feed               water.Ions
	serviceGPMFt3      float64
	saltLbFt3          float64
	tempC              float64
	coarse             float64 // times MaxVolume per march
	capacity, leak     float64 // kilograin/ft³ removed and mid-run gpg of the last service
	saltOut, drainHard float64
}

func (c *cycle) bedM3() float64 { return c.model.spec.AreaM2 * c.model.spec.DepthM }

// run passes bv bed volumes of w at perS bed volumes a second, up when negative.
func (c *cycle) run(bv, perS float64, w water.Ions, remix float64, each func(out water.Ions, m3 float64) bool) {
	up := perS < 0
	if up {
		perS = -perS
	}
	step := c.model.MaxVolume() * c.coarse
	for left := bv * c.bedM3(); left > 1e-12; left -= step {
		v := min(step, left)
		p := Ports{TopInM3: v, BottomOutM3: v, TopIn: w, TempC: c.tempC, Remix: remix}
		if up {
			p = Ports{TopOutM3: v, BottomInM3: v, BottomIn: w, TempC: c.tempC, Remix: remix}
		}
		_, out := c.model.March(&c.state, p, v/c.bedM3()/perS)
		if each != nil && !each(out, v) {
			return
		}
	}
}

// regenerate backwashes, draws 10 % brine, rinses slowly and fast.
func (c *cycle) regenerate() {
	brine := c.feed
	brine[water.Na] += 107.07e3 / saltGPerMol // 10 % by mass at 20 °C, 1.0707 kg/L
	brineBV := c.saltLbFt3 * lbFt3 / 107.07e3
	backwash := 5 * 6.309e-5 / 0.09290304 / c.model.spec.DepthM // 5 gpm/ft²
	c.run(backwash*600, -backwash, c.feed, 0.05, nil)
	c.run(brineBV, 0.5*gpmFt3, brine, 0, nil)
	c.run(1.75, 0.3*gpmFt3, c.feed, 0, nil)
	c.run(1.5, 2*gpmFt3, c.feed, 0, nil)
}

// serve runs to 1 gpg at the outlet and fills in capacity and leak.
func (c *cycle) serve() {
	removed, passed := 0.0, 0.0
	var leak []float64
	c.run(1000, c.serviceGPMFt3*gpmFt3, c.feed, 0, func(out water.Ions, m3 float64) bool {
		removed += (c.feed.Hardness() - out.Hardness()) * m3
		passed += m3
		leak = append(leak, out.Hardness()/gpg)
		return passed < 5*c.bedM3() || out.Hardness() < gpg
	})
	c.capacity = 2 * removed / c.bedM3() / 1000 * grainsEq
	c.leak = leak[len(leak)/2]
}

// settle repeats cycles until the capacity holds within 0.2 %.
func (c *cycle) settle() int {
	for n := 1; ; n++ {
		last := c.capacity
		c.regenerate()
		c.serve()
		if d := c.capacity - last; n > 12 || d < 0.002*last && d > -0.002*last {
			return n
		}
	}
}

func newCycle(sp Spec, salt float64) *cycle {
	m, err := NewModel(sp)
	if err != nil {
		panic(err)
	}
	c := &cycle{model: m, feed: hard20, serviceGPMFt3: 2.5, saltLbFt3: salt, tempC: 20, coarse: 1}
	m.Equilibrate(&c.state, c.feed)
	return c
}
