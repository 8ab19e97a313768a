package viewmodel

import (
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim"
)

// openWith opens a call on a sound unit that runs a program.
func openWith(t *testing.T, program string) *sim.Session {
	t.Helper()
	const file = "half-soft-at-the-orchard.json"
	data, err := os.ReadFile("../../scenarios/" + file)
	require.NoError(t, err)
	text := strings.NewReplacer(
		`"set": "tank-9-in"`, `"set": "tank-9-in", "program": "`+program+`"`,
		`"days": 14, "days_since_regeneration": 2`, `"days": 1, "days_since_regeneration": 1`,
		`{"id": "riser-seal", "severity": 0.4}`, ``,
	).Replace(string(data))
	return open(t, file, text)
}

// open opens a call and lives its history.
func open(t *testing.T, file, text string) *sim.Session {
	t.Helper()
	s, err := sim.Open(file, []byte(text), 1)
	require.NoError(t, err)
	for s.Prepare(500) < 1 {
	}
	return s
}

// do carries out an act and lets the time that it costs go by.
func do(t *testing.T, s *sim.Session, v *sim.View, a sim.Action) {
	t.Helper()
	require.NoError(t, s.Do(a))
	for s.View(v); v.Tick < s.Call().BusyUntilTick; s.View(v) {
		s.Tick()
	}
}

// stand lets the valve go to its next position and stand there for a while.
func stand(t *testing.T, s *sim.Session, v *sim.View) {
	t.Helper()
	at := v.Controller.Station
	do(t, s, v, sim.Action{Kind: sim.ActAdvance})
	for v.Controller.Station == at || v.Controller.Moving {
		s.Tick()
		s.View(v)
	}
	for range 300 {
		s.Tick()
	}
	s.View(v)
}

// ends are the streams' ends that meet at one place of the picture.
type ends struct {
	at    Pt
	n     int     // how many
	net   float64 // flow in less flow out, m³/s
	total float64 // flow in and out, m³/s
}

// meetings gathers the ends of all streams by place: those in one chamber of the
// valve meet, and those at one point.
func meetings(s *Scene, v *sim.View) (all []ends) {
	add := func(p Pt, q float64) {
		p = chamber(s, p)
		for i := range all {
			if dist(all[i].at, p) < 3*s.Unit {
				all[i].n, all[i].net, all[i].total = all[i].n+1, all[i].net+q, all[i].total+math.Abs(q)
				return
			}
		}
		all = append(all, ends{p, 1, q, math.Abs(q)})
	}
	for i := range s.Streams {
		st, q := &s.Streams[i], flowOf(&s.Streams[i], v)
		if st.Gap == 16 { // one of the two round a disc
			q /= 2
		}
		add(st.Pts[0], -q)
		add(st.Pts[len(st.Pts)-1], q)
	}
	return all
}

// flowOf is the flow that a stream stands for, m³/s along its points.
func flowOf(st *Stream, v *sim.View) (q float64) {
	for _, term := range st.Terms {
		q += term.Coef * v.Paths[term.Path].FlowM3S
	}
	switch {
	case st.House:
		q -= v.HouseDrawM3S
	case st.Terms == nil:
		q = v.HouseDrawM3S
	}
	return q
}

// inBody takes a point to the manifold's drawing units.
func inBody(s *Scene, p Pt) Pt {
	o := s.Seats[sim.SeatPass]
	return Pt{(p.X-o.X)/s.Unit + seatX[sim.SeatPass], (p.Y-o.PlateY)/s.Unit + plateY - ringH}
}

// chamber returns the middle of the chamber above or below a seat that p lies in,
// or of the injector's throat; else p.
func chamber(s *Scene, p Pt) Pt {
	o, q := s.Seats[sim.SeatPass], inBody(s, p)
	middle := func(x, y float64) Pt {
		return Pt{o.X + (x-seatX[sim.SeatPass])*s.Unit, o.PlateY + (y-plateY+ringH)*s.Unit}
	}
	for _, x := range seatX {
		if math.Abs(q.X-x) <= roomW/2 && q.Y > roomY && q.Y < belowY {
			if q.Y < plateY {
				return middle(x, (roomY+plateY)/2)
			}
			return middle(x, (plateY+belowY)/2)
		}
	}
	if q.X >= tipX-1 && q.X <= throatX+1 && math.Abs(q.Y-riserY) < 1 {
		return middle(tipX, riserY)
	}
	if math.Abs(q.X-seatX[sim.SeatInlet]) < 1 && math.Abs(q.Y-riserY) < passW {
		return middle(seatX[sim.SeatInlet], riserY) // round the tube that crosses here
	}
	return p
}

// TestStreamsJoinAsThePlantsPassagesDo: in every position of every program the
// water that the plant has in its passages goes through the valve drawn as from
// one stream into the next, and leaves it only where a port is.
func TestStreamsJoinAsThePlantsPassagesDo(t *testing.T) {
	ports := [][2]float64{ // house in and out, drain, brine; bed top left and right of the riser
		{0, supplyY}, {0, houseY}, {drainX, bodyH}, {bodyW, roomY + 14}, {riserX - neckW/2 + 8, bodyH}, {riserX + neckW/2 - 8, bodyH},
	}
	isPort := func(p Pt) bool {
		for _, port := range ports {
			if dist(p, Pt{port[0], port[1]}) < 3 {
				return true
			}
		}
		return false
	}
	for _, program := range []string{"standard", "counter-current"} {
		call := openWith(t, program)
		require.Equal(t, program == "counter-current", call.Setup().CounterCurrent)
		var v sim.View
		do(t, call, &v, sim.Action{Kind: sim.ActHouseTap, Value: 1})
		for range call.Setup().Stations {
			stand(t, call, &v)
			at := program + ", " + call.Setup().Stations[v.Controller.Station].ID
			for _, size := range stages {
				s := Build(size[0], size[1], call.Setup(), Options{Units: pageUnits{}})
				requireDrawn(t, s, &v, at)
				for _, m := range meetings(s, &v) {
					q := inBody(s, m.at)
					inside := q.X > -1 && q.X < bodyW+1 && q.Y > -1 && q.Y < bodyH+1 && !isPort(q)
					if m.n > 1 && !isPort(q) || inside {
						require.InDelta(t, 0, m.net, 1e-9, "%s: water comes or goes at %v of the valve drawn at %v", at, q, size)
					}
				}
			}
		}
	}
}

// requireDrawn checks that each passage with flow has a stream that moves, the
// bypass plugs' own bores apart, and that what stands still has none.
func requireDrawn(t *testing.T, s *Scene, v *sim.View, at string) {
	t.Helper()
	var moving [sim.NumPaths]bool
	for i := range s.Streams {
		if st := &s.Streams[i]; len(st.Terms) == 1 && flowOf(st, v) != 0 {
			moving[st.Terms[0].Path] = true
		}
	}
	for p := range v.Paths {
		require.Equal(t, v.Paths[p].FlowM3S != 0, moving[p], "%s: passage %d", at, p)
	}
}

// TestBrineOfACounterCurrentUnitGoesUpThroughTheBed names the way that the joins
// above only imply.
func TestBrineOfACounterCurrentUnitGoesUpThroughTheBed(t *testing.T) {
	call := openWith(t, "counter-current")
	var v sim.View
	call.View(&v)
	stand(t, call, &v)
	require.Equal(t, "brine", call.Setup().Stations[v.Controller.Station].ID)
	for range 2400 { // ten minutes of brine
		call.Tick()
	}
	call.View(&v)
	s := Build(1000, 640, call.Setup(), Options{Units: pageUnits{}})
	var f Frame
	f.Update(s, &v, call.Setup(), PaletteFor(false))
	for _, row := range []struct {
		name string
		path sim.Path
		down bool
	}{{"riser", sim.PathRiser, true}, {"bed", sim.PathBed, false}, {"drain", sim.PathDrain, true}} {
		seen := false
		for i := range s.Streams {
			st := &s.Streams[i]
			if len(st.Terms) != 1 || st.Terms[0] != (Term{row.path, 1}) {
				continue
			}
			seen = true
			dy := (st.Pts[len(st.Pts)-1].Y - st.Pts[0].Y) * f.Speed[i]
			require.Equal(t, row.down, dy > 0, row.name)
		}
		require.True(t, seen, row.name)
	}
	require.Greater(t, f.Brine[sim.PathRiser], 0.2, "brine in the riser")
	require.Greater(t, f.Stipple[sim.BedCells-1], f.Stipple[0]+0.1, "the bed fills with brine from below")
}

// TestTubeOfACounterCurrentInjectorPassesTheInletsWater looks at what lies
// uppermost under each stream of the two passages that cross.
func TestTubeOfACounterCurrentInjectorPassesTheInletsWater(t *testing.T) {
	set := testSetup()
	set.CounterCurrent = true
	s := Build(1000, 640, set, Options{Units: pageUnits{}})
	joined := map[sim.Path][]Src{
		sim.PathDischarge: {Src(sim.PathDischarge), SrcReturn, SrcRiserHead, Src(sim.PathRiser), Src(sim.PathBrineSeat), Src(sim.PathMotiveSeat), SrcNozzle},
		sim.PathInletSeat: {SrcTankHead, Src(sim.PathBypassIn), Src(sim.PathInletSeat)},
	}
	seen := 0
	for i := range s.Streams {
		st := &s.Streams[i]
		if len(st.Terms) != 1 || joined[st.Terms[0].Path] == nil {
			continue
		}
		for l := 1.0; l < st.Len; l += 2 {
			k := 1
			for st.At[k] < l {
				k++
			}
			p := lerp(st.Pts[k-1], st.Pts[k], (l-st.At[k-1])/(st.At[k]-st.At[k-1]))
			src, ok := topWater(s, p)
			require.True(t, ok, "dry at %v", inBody(s, p))
			require.Contains(t, joined[st.Terms[0].Path], src, "%v", inBody(s, p))
			seen++
		}
	}
	require.Greater(t, seen, 100)
}

// topWater is the water drawn last at p.
func topWater(s *Scene, p Pt) (src Src, ok bool) {
	for _, w := range s.Waters {
		for i := 0; i+2 < len(w.Mesh.I); i += 3 {
			if inTriangle(p, w.Mesh.V[w.Mesh.I[i]], w.Mesh.V[w.Mesh.I[i+1]], w.Mesh.V[w.Mesh.I[i+2]]) {
				src, ok = w.Src, true
			}
		}
	}
	return src, ok
}
