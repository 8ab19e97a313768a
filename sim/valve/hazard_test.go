package valve

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// Nodes of the valve body: what the seats lie between.
const (
	supply = iota
	house
	bedTop
	bedBottom
	drain
	throat
	brineTank
	numPlaces
)

type passage struct {
	a, b int
	kind string // "seat", "bed", "nozzle" or "jet"
}

// passages are those open in a setting.
func passages(open [NumSeats]bool, below bool) []passage {
	ends := [NumSeats]passage{
		Inlet: {supply, bedTop, "seat"}, Outlet: {bedBottom, house, "seat"}, Pass: {supply, house, "seat"},
		Upflow: {supply, bedBottom, "seat"}, Backwash: {bedTop, drain, "seat"}, Rinse: {bedBottom, drain, "seat"},
		Motive: {supply, throat, "nozzle"}, Brine: {brineTank, throat, "seat"},
	}
	jet := passage{throat, bedTop, "jet"}
	if below {
		jet.b = bedBottom
	}
	list := []passage{jet, {bedTop, bedBottom, "bed"}}
	for s := range NumSeats {
		if open[s] {
			list = append(list, ends[s])
		}
	}
	return list
}

// ways returns the kinds of passage along every way from one place to another
// that comes to no place twice and does not pass through a place of via's.
func ways(list []passage, from, to int, avoid ...int) (found [][]string) {
	var walk func(at int, been []int, kinds []string)
	walk = func(at int, been []int, kinds []string) {
		if at == to {
			found = append(found, slices.Clone(kinds))
			return
		}
		for _, p := range list {
			for _, end := range [2][2]int{{p.a, p.b}, {p.b, p.a}} {
				if end[0] == at && !slices.Contains(been, end[1]) && (end[1] == to || !slices.Contains(avoid, end[1])) {
					walk(end[1], append(slices.Clone(been), end[1]), append(slices.Clone(kinds), p.kind))
				}
			}
		}
	}
	walk(from, []int{from}, nil)
	return found
}

func without(found [][]string, kinds ...string) bool {
	return slices.ContainsFunc(found, func(way []string) bool {
		return !slices.ContainsFunc(kinds, func(k string) bool { return slices.Contains(way, k) })
	})
}

func eachSetting(visit func(open [NumSeats]bool, below bool)) {
	for bits := range 1 << NumSeats {
		var open [NumSeats]bool
		for s := range NumSeats {
			open[s] = bits>>s&1 == 1
		}
		visit(open, false)
		visit(open, true)
	}
}

// All settings, against a search of the ways through the body that knows no
// setting by name.
func TestHazardsAgreeWithTheWaysThroughTheBody(t *testing.T) {
	count := map[string]int{}
	eachSetting(func(open [NumSeats]bool, below bool) {
		list := passages(open, below)
		// An outlet of the injector under supply pressure, or shut, keeps it from drawing.
		outlet := bedTop
		if below {
			outlet = bedBottom
		}
		pressed := without(ways(list, supply, outlet, drain), "nozzle")
		vented := without(ways(list, outlet, drain, supply), "nozzle", "jet") || without(ways(list, outlet, house, supply), "nozzle", "jet")
		both := open[Motive] && open[Brine]
		draws := both && vented && !pressed

		throughBed := false
		for _, sink := range []int{house, drain, brineTank} {
			if sink == brineTank && draws {
				continue
			}
			for _, way := range ways(list, supply, sink, drain) {
				throughBed = throughBed || slices.Contains(way, "bed")
			}
		}
		toHouse := ways(list, supply, house)
		toDrain := ways(list, supply, drain)
		var want []string
		add := func(is bool, what string) {
			if is {
				want = append(want, what)
			}
		}
		add(!without(ways(list, supply, house, drain), "nozzle"), HouseDry)
		add(without(toHouse, "bed"), RawToHouse)
		add(draws && len(ways(list, throat, house, supply, drain)) > 0, BrineToHouse)
		add(len(ways(list, house, drain, supply, throat)) > 0, HouseToDrain)
		add(without(toDrain, "bed", "jet"), SupplyToDrain)
		injected := slices.DeleteFunc(slices.Clone(toDrain), func(way []string) bool { return !slices.Contains(way, "nozzle") })
		add(without(injected, "bed"), InjectorToDrain)
		add(both && !draws, InjectorHeldBack)
		add(!throughBed, BedIdle)

		got := Hazards(open, below)
		require.Equal(t, want, got, "%v, injector below: %v", open, below)
		for _, h := range got {
			count[h]++
		}
	})
	require.Len(t, count, len(AllHazards()), "each hazard can come about")
	for _, h := range AllHazards() {
		require.Positive(t, count[h], h)
	}
}

// At the stops of the programs the house has raw water where the pass seat gives
// it, and nothing else is wrong.
func TestStopsOfTheProgramsAreWithoutHazard(t *testing.T) {
	for _, p := range programs(t) {
		for _, st := range p.Stops {
			var want []string
			if st.Open[Pass] {
				want = []string{RawToHouse}
			}
			require.Equal(t, want, Hazards(st.Open, p.InjectorDischargesBelow), "%s, %s", p.ID, st.Name)
		}
	}
}

func TestHazardsOfSettingsThatTraineesTry(t *testing.T) {
	rows := []struct {
		situation string
		open      [NumSeats]bool
		below     bool
		want      []string
	}{
		{"all shut", open(), false, []string{HouseDry, BedIdle}},
		{"pass seat alone", open(Pass), false, []string{RawToHouse, BedIdle}},
		{"service with a leaking pass seat", open(Inlet, Outlet, Pass), false, []string{RawToHouse}},
		{"inlet opened for backwash", open(Pass, Inlet, Backwash), false, []string{RawToHouse, SupplyToDrain, BedIdle}},
		{"rinse opened for backwash", open(Pass, Upflow, Rinse), false, []string{RawToHouse, SupplyToDrain, BedIdle}},
		{"outlet left open in brine draw", open(Outlet, Rinse, Motive, Brine), false, []string{HouseDry, BrineToHouse, HouseToDrain}},
		{"inlet left open in brine draw", open(Inlet, Pass, Rinse, Motive, Brine), false, []string{RawToHouse, InjectorHeldBack}},
		{"drain shut in brine draw", open(Pass, Motive, Brine), false, []string{RawToHouse, InjectorHeldBack, BedIdle}},
		{"downflow brine stop in upflow plumbing", open(Pass, Rinse, Motive, Brine), true, []string{RawToHouse, InjectorToDrain, BedIdle}},
		{"upflow brine stop in downflow plumbing", open(Pass, Backwash, Motive, Brine), false, []string{RawToHouse, InjectorToDrain, BedIdle}},
		{"pass and outlet both open in brine draw", open(Pass, Outlet, Motive, Brine), true, []string{RawToHouse, InjectorHeldBack, BedIdle}},
	}
	for _, row := range rows {
		require.Equal(t, row.want, Hazards(row.open, row.below), row.situation)
	}
}

// Turned upside down, and the house left out, the body is the same body.
func TestHazardsKnowNoUpOrDownButTheHouse(t *testing.T) {
	eachSetting(func(open [NumSeats]bool, below bool) {
		if open[Outlet] {
			return
		}
		turned := open
		turned[Inlet], turned[Upflow] = open[Upflow], open[Inlet]
		turned[Backwash], turned[Rinse] = open[Rinse], open[Backwash]
		require.Equal(t, Hazards(open, below), Hazards(turned, !below), "%v", open)
	})
}
