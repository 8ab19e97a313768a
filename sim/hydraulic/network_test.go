package hydraulic

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/repro"
)

func TestNetworkRefusesWhatCannotBeSolved(t *testing.T) {
	_, err := NewNetwork(5, []bool{true, false, false, false, false}, []Ends{
		{From: 0, To: 9},
		{From: -1, To: 1},
		{From: 2, To: 2},
		{From: 0, To: 1, Jet: true, Nozzle: 7, Suction: 3},
		{From: 0, To: 1, Jet: true, Nozzle: 4, Suction: 0},
	})
	for _, part := range []string{
		"link 0: from 0 to 9", "link 1: from -1 to 1", "link 2: from node 2 to itself",
		"link 3: nozzle 7: no such link", "link 3: suction 3: no such link", "link 4: nozzle 4",
		"link 4: suction 0 does not lead to its throat, node 0", "2 jet pumps",
	} {
		require.ErrorContains(t, err, part)
	}
	_, err = NewNetwork(4, []bool{true, false, false, false}, []Ends{{From: 0, To: 1}, {From: 2, To: 3}})
	require.ErrorContains(t, err, "node 2: no path to a fixed node")
	require.ErrorContains(t, err, "node 3: no path to a fixed node")
	_, err = NewNetwork(2, []bool{true}, nil)
	require.ErrorContains(t, err, "2 nodes")
}

// The case and the expected figures: EPANET 2.3.5, see network/ in the reference
// data; with its g the heads hold to 1 mm and the flows to 5e-5 L/s.
func TestParallelPassagesAgreeWithTheReferenceProgram(t *testing.T) {
	const g = 9.81456
	dir := filepath.Join("..", "..", "testdata", "reference", "network")
	text, err := os.ReadFile(filepath.Join(dir, "parallel.json"))
	require.NoError(t, err)
	var c struct {
		Rho   float64 `json:"density_kg_m3"`
		Nodes []struct {
			ID        string
			Head      *float64 `json:"head_m"`
			Elevation float64  `json:"elevation_m"`
		}
		Links []struct {
			ID, From, To, Kind string
			D                  float64 `json:"diameter_m"`
			K, CD              float64
		}
	}
	require.NoError(t, json.Unmarshal(text, &c))

	index, elevation := map[string]int{}, []float64{}
	var fixed []bool
	for _, v := range c.Nodes {
		index[v.ID] = len(fixed)
		fixed = append(fixed, v.Head != nil)
		elevation = append(elevation, v.Elevation)
	}
	var ends []Ends
	var laws []Law
	for _, l := range c.Links {
		e := Ends{From: index[l.From], To: len(fixed)}
		law := Law{B: MinorB(l.K, l.D, c.Rho)}
		if l.Kind == "orifice" { // to the air at the height of its node
			law.B = OrificeB(l.CD, l.D, c.Rho)
			fixed, elevation = append(fixed, true), append(elevation, elevation[e.From])
		} else {
			e.To = index[l.To]
		}
		law.RisePa = c.Rho * g * (elevation[e.From] - elevation[e.To])
		ends, laws = append(ends, e), append(laws, law)
	}
	n, err := NewNetwork(len(fixed), fixed, ends)
	require.NoError(t, err)
	s := n.NewState()
	for i, v := range c.Nodes {
		if v.Head != nil {
			s.P[i] = c.Rho * g * *v.Head
		}
	}
	require.Equal(t, Solved, n.Solve(laws, nil, &s).Status)

	f, err := os.Open(filepath.Join(dir, "parallel_expected.csv"))
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	links := map[string]int{}
	for i, l := range c.Links {
		links[l.ID] = i
	}
	checked := 0
	for _, r := range rows {
		want, _ := strconv.ParseFloat(r[3], 64)
		switch r[0] + " " + r[2] {
		case "node head":
			v := index[r[1]]
			require.InDelta(t, want, s.P[v]/(c.Rho*g)+elevation[v], 1e-3, r[1])
			checked++
		case "link flow":
			require.InDelta(t, want, 1000*s.Q[links[r[1]]], 5e-5, r[1])
			checked++
		}
	}
	require.Equal(t, 13, checked)
}

func TestMirroredNetworkHasMirroredFlows(t *testing.T) {
	back := make([]Ends, 0, numLinks)
	for _, e := range unitLinks {
		if !e.Jet {
			e.From, e.To = e.To, e.From
		}
		back = append(back, Ends{From: e.From, To: e.To})
	}
	m, err := NewNetwork(numNodes, unitFixed(), back)
	require.NoError(t, err)
	ahead := make([]Ends, 0, numLinks)
	for _, e := range unitLinks {
		ahead = append(ahead, Ends{From: e.From, To: e.To})
	}
	n, err := NewNetwork(numNodes, unitFixed(), ahead)
	require.NoError(t, err)
	r := repro.NewStream(1, "mirror")
	laws, mirrored := make([]Law, numLinks), make([]Law, numLinks)
	for range 200 {
		randomLaws(&r, laws)
		for i, e := range unitLinks {
			if k := laws[i].Kind; k == Jet || k == Bed || k == Regulator || k == Check {
				laws[i] = Law{B: laws[i].B}
			}
			mirrored[i] = laws[i]
			if !e.Jet {
				mirrored[i].RisePa = -laws[i].RisePa
			}
		}
		a, b := n.NewState(), m.NewState()
		randomPressures(&r, a.P)
		copy(b.P, a.P)
		require.Equal(t, Solved, n.Solve(laws, nil, &a).Status)
		require.Equal(t, Solved, m.Solve(mirrored, nil, &b).Status)
		for i, e := range unitLinks {
			want := -a.Q[i]
			if e.Jet {
				want = a.Q[i]
			}
			require.InDelta(t, want, b.Q[i], 2e-9)
		}
	}
}

// Square laws: a hundred times the pressure gives ten times the flow, everywhere.
func TestFlowsScaleWithTheRootOfPressure(t *testing.T) {
	n := unitNetwork(t)
	laws := drawLaws()
	for _, i := range []int{bed, drainControl, drainPipe, airCheck, brinePipe} {
		laws[i] = Law{B: CvB(3, rho)}
	}
	laws[mixing].VapourPa = 0
	one, hundred := n.NewState(), n.NewState()
	one.P[street], hundred.P[street] = 1e5, 1e7
	require.Equal(t, Solved, n.Solve(laws, nil, &one).Status)
	require.Equal(t, Solved, n.Solve(laws, nil, &hundred).Status)
	for _, i := range []int{mains, motiveSeat, nozzle, suctionPort, mixing, bed, drainControl, drainPipe, airCheck} {
		require.InEpsilon(t, 10*one.Q[i], hundred.Q[i], 1e-3, "link %d", i)
	}
}

func TestDemandIsTakenOutOfItsNode(t *testing.T) {
	n, err := NewNetwork(3, []bool{true, false, false}, []Ends{{From: 0, To: 1}, {From: 1, To: 2}})
	require.NoError(t, err)
	laws := []Law{{B: 1e10}, {B: 4e10}}
	s := n.NewState()
	s.P[0] = 3e5
	demand := []float64{5, 1e-4, 2e-3}
	require.Equal(t, Solved, n.Solve(laws, demand, &s).Status)
	require.InDelta(t, 2.1e-3, s.Q[0], 1e-17)
	require.InDelta(t, 2e-3, s.Q[1], 1e-17)
	require.InDelta(t, 3e5-1e10*2.1e-3*2.1e-3-4e10*2e-3*2e-3, s.P[2], 0.05)
	requireSolved(t, n, laws, demand, &s)
}

func TestNodesBehindShutSeatsDivideTheirLeaks(t *testing.T) {
	// Two open passages in a row, joined to the ends by leaks alone: their
	// pressure follows from leaks a billion times smaller than they could pass.
	n, err := NewNetwork(5, []bool{true, false, false, false, true}, []Ends{
		{From: 0, To: 1}, {From: 1, To: 2}, {From: 2, To: 3}, {From: 3, To: 4},
	})
	require.NoError(t, err)
	laws := []Law{{B: CvB(leakCv, rho)}, {B: CvB(20, rho)}, {B: CvB(20, rho)}, {B: CvB(leakCv/2, rho)}}
	s := n.NewState()
	s.P[0] = 5e5
	require.Equal(t, Solved, n.Solve(laws, nil, &s).Status)
	for v := 1; v <= 3; v++ {
		require.InDelta(t, 4e5, s.P[v], 0.1)
	}
	require.InEpsilon(t, math.Sqrt(1e5/laws[0].B), s.Q[0], 1e-6)
	for i := 1; i < 4; i++ {
		require.InEpsilon(t, s.Q[0], s.Q[i], 1e-6)
	}
}

func TestSolvedStateNeedsNoFurtherStep(t *testing.T) {
	n, laws := unitNetwork(t), drawLaws()
	s := n.NewState()
	s.P[street] = 55 * PaPerPsi
	require.Positive(t, n.Solve(laws, nil, &s).Iterations)
	again := n.Solve(laws, nil, &s)
	require.Equal(t, Solved, again.Status)
	require.Zero(t, again.Iterations)
}

func TestSolveAllocatesNothing(t *testing.T) {
	n, laws := unitNetwork(t), drawLaws()
	s := n.NewState()
	require.Zero(t, testing.AllocsPerRun(20, func() {
		clear(s.Q)
		s.P[street] = 55 * PaPerPsi
		n.Solve(laws, nil, &s)
	}))
}

func TestBadNumbersAreRefusedAndBadStartsForgiven(t *testing.T) {
	n := unitNetwork(t)
	good := n.NewState()
	good.P[street] = 55 * PaPerPsi
	n.Solve(drawLaws(), nil, &good)
	nan := math.NaN()
	for name, spoil := range map[string]func([]Law){
		"loss not a number":   func(l []Law) { l[mains].B = nan },
		"loss infinite":       func(l []Law) { l[mains].A = math.Inf(1) },
		"loss negative":       func(l []Law) { l[mains].B = -1 },
		"regulator without":   func(l []Law) { l[drainControl].SetM3S = 0 },
		"pipe without Re":     func(l []Law) { l[drainPipe].PipeRe = 0 },
		"no such kind":        func(l []Law) { l[mains].Kind = 200 },
		"jet law not on jet":  func(l []Law) { l[mixing].Kind = Quadratic },
		"jet law elsewhere":   func(l []Law) { l[mains].Kind = Jet },
		"rise not a number":   func(l []Law) { l[brinePipe].RisePa = nan },
		"gain not a number":   func(l []Law) { l[mixing].NozzleGain = nan },
		"vapour not a number": func(l []Law) { l[mixing].VapourPa = nan },
	} {
		laws := drawLaws()
		spoil(laws)
		s := State{Q: append([]float64(nil), good.Q...), P: append([]float64(nil), good.P...)}
		require.Equal(t, Invalid, n.Solve(laws, nil, &s).Status, name)
		require.Equal(t, good, s, name)
	}
	s := n.NewState()
	s.P[street] = nan
	require.Equal(t, Invalid, n.Solve(drawLaws(), nil, &s).Status)
	for turn := range 12 {
		s.P[street] = good.P[street]
		for i := range s.Q {
			s.Q[i] = []float64{nan, math.Inf(1), -1e300, 1e-300}[(i+turn)%4]
		}
		for v, fixed := range n.fixed {
			if !fixed {
				s.P[v] = []float64{nan, math.Inf(-1), 1e300}[(v+turn)%3]
			}
		}
		require.Equal(t, Solved, n.Solve(drawLaws(), nil, &s).Status)
		for i := range s.Q {
			require.InDelta(t, good.Q[i], s.Q[i], 2e-9)
		}
	}
	require.Panics(t, func() { n.Solve(drawLaws()[1:], nil, &s) })
	require.Panics(t, func() { n.Solve(drawLaws(), []float64{1}, &s) })
}

func TestLargeNetworkIsSolvedToo(t *testing.T) {
	const side = 14 // a square grid fed at one corner, drained at the other
	var links []Ends
	for r := range side {
		for c := range side {
			if c > 0 {
				links = append(links, Ends{From: r*side + c - 1, To: r*side + c})
			}
			if r > 0 {
				links = append(links, Ends{From: (r-1)*side + c, To: r*side + c})
			}
		}
	}
	fixed := make([]bool, side*side)
	fixed[0], fixed[len(fixed)-1] = true, true
	n, err := NewNetwork(len(fixed), fixed, links)
	require.NoError(t, err)
	laws := make([]Law, len(links))
	for i := range laws {
		laws[i] = PipeLaw(10, 0.02, 1e-5, 1, rho, 0.001)
	}
	s := n.NewState()
	s.P[0] = 4e5
	require.Equal(t, Solved, n.Solve(laws, nil, &s).Status)
	requireSolved(t, n, laws, nil, &s)
	require.InDelta(t, 2e5, s.P[side-1], 0.01, "by symmetry")
}

func TestPipeWithCheckHoldsAgainstReverseFlow(t *testing.T) {
	n, err := NewNetwork(3, []bool{true, false, true}, []Ends{{From: 0, To: 1}, {From: 1, To: 2}})
	require.NoError(t, err)
	pipe := PipeLaw(10, 0.02, 1e-5, 1, rho, 0.001)
	pipe.BR = CvB(leakCv, rho)
	for _, up := range []float64{0, 1, 1e3, 1e6} {
		s := n.NewState()
		s.P[0], s.P[2] = 1e3, up
		require.Equal(t, Solved, n.Solve([]Law{pipe, {B: 1e9}}, nil, &s).Status)
		if up <= 1 {
			require.Greater(t, s.Q[0], 1e-5)
		} else if up > 1e3 {
			require.InDelta(t, 0, s.Q[0], 1e-8)
			require.Negative(t, s.Q[0])
		}
	}
}

// The bits of a run through all pressures: the same on every platform.
func TestSolutionsKeepTheirBits(t *testing.T) {
	n := unitNetwork(t)
	s := n.NewState()
	h := repro.NewHash()
	for psi := 0; psi <= 150; psi += 3 {
		s.P[street] = float64(psi) * PaPerPsi
		require.Equal(t, Solved, n.Solve(drawLaws(), nil, &s).Status)
		h.Floats(s.Q)
		h.Floats(s.P)
	}
	require.Equal(t, uint64(0xd2d1d9e2c5d906db), h.Sum())
}
