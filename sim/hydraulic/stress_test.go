package hydraulic

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"testing"

	"brinebench/sim/repro"
)

func TestStress(t *testing.T) {
	r := repro.NewStream(77, "stress")
	kinds := []Law{}
	for _, name := range slices.Sorted(maps.Keys(sampleLaws)) {
		l := sampleLaws[name]
		if l.Kind != Jet && l.B+l.PipeB > 0 {
			kinds = append(kinds, l)
		}
	}
	hist := [6]int{}
	for k := range 15000 {
		nodes := 3 + int(r.Float64()*15)
		fixed := make([]bool, nodes)
		fixed[0] = true
		for v := range fixed {
			if r.Float64() < 0.2 {
				fixed[v] = true
			}
		}
		var links []Ends
		for v := 1; v < nodes; v++ {
			links = append(links, Ends{From: int(r.Float64() * float64(v)), To: v})
		}
		for range int(r.Float64() * 12) {
			a, b := int(r.Float64()*float64(nodes)), int(r.Float64()*float64(nodes))
			if a != b {
				links = append(links, Ends{From: a, To: b})
			}
		}
		jet := r.Float64() < 0.5 && nodes > 3
		if jet {
			th := 1 + int(r.Float64()*float64(nodes-1))
			var o [3]int
			for i := range o {
				for {
					o[i] = int(r.Float64() * float64(nodes))
					if o[i] != th {
						break
					}
				}
			}
			m := len(links)
			links = append(links, Ends{From: o[0], To: th}, Ends{From: o[1], To: th}, Ends{From: th, To: o[2], Jet: true, Nozzle: m, Suction: m + 1})
		}
		n, err := NewNetwork(nodes, fixed, links)
		if err != nil {
			t.Fatal(err)
		}
		laws := make([]Law, len(links))
		for i := range laws {
			laws[i] = kinds[int(r.Float64()*float64(len(kinds)))]
			if r.Float64() < 0.5 {
				laws[i].RisePa = 1e5 * (r.Float64() - 0.5)
			}
		}
		if jet {
			m := len(links)
			laws[m-3], laws[m-2], laws[m-1] = NewInjector(0.0009+0.0007*r.Float64(), 0.0017, r.Float64(), math.Max(0.1, r.Float64()), 0, rho).Laws(vapourPa)
		}
		var demand []float64
		if r.Float64() < 0.3 {
			demand = make([]float64, nodes)
			for v := range demand {
				if r.Float64() < 0.2 {
					demand[v] = 1e-4 * (r.Float64() - 0.3)
				}
			}
		}
		a, b := n.NewState(), n.NewState()
		for v := range fixed {
			if fixed[v] {
				a.P[v] = 1e6 * r.Float64() * r.Float64()
				b.P[v] = a.P[v]
			}
		}
		for i := range b.Q {
			b.Q[i] = 1e-3 * (r.Float64() - 0.5)
		}
		ra, rb := n.Solve(laws, demand, &a), n.Solve(laws, demand, &b)
		if ra.Status != Solved || rb.Status != Solved {
			fmt.Println("unsolved", k, jet, demand != nil, ra, rb)
			hist[0]++
			continue
		}
		hist[1]++
		if ra.Iterations > 40 {
			hist[2]++
		}
		if rb.Iterations > 40 {
			hist[3]++
		}
		if math.IsNaN(a.Q[0]) || ra.ResidualPa > 1 {
			for i := range links {
				fmt.Printf("%+v %+v Q %g P %g %g\n", links[i], laws[i], a.Q[i], a.P[links[i].From], a.P[links[i].To])
			}
		}
		for i := range a.Q {
			if d := math.Abs(a.Q[i] - b.Q[i]); d > 2e-9+1e-6*math.Abs(a.Q[i]) {
				hist[4]++
				if hist[4] < 10 {
					fmt.Println("differs", k, jet, demand != nil, i, a.Q[i], b.Q[i], ra, rb)
				}
				break
			}
		}
		if demand == nil && ra.ResidualPa < 1 {
			requireSolved(t, n, laws, demand, &a)
		}
	}
	fmt.Println(hist)
}
