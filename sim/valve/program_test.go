package valve

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// programs returns all that come with the bench.
func programs(t testing.TB) (list []Program) {
	for _, id := range ProgramIDs() {
		p, ok := ProgramNamed(id)
		require.True(t, ok)
		require.Equal(t, id, p.ID)
		list = append(list, p)
	}
	return list
}

func TestProgramsAreSound(t *testing.T) {
	for _, p := range programs(t) {
		require.Empty(t, p.Validate(), p.ID)
	}
	_, ok := ProgramNamed("none")
	require.False(t, ok)
}

// The figures that recordings were made with: a change of one is a change of bits.
func TestStandardProgramStaysAsRecorded(t *testing.T) {
	want := Program{
		ID: "standard", Name: "Downflow brining, refill last", DrumDegS: 3,
		Stops: []Stop{
			{ID: "service", Name: "Service", AngleDeg: 0, Open: open(Inlet, Outlet)},
			{ID: "backwash", Name: "Backwash", AngleDeg: 72, Seconds: 600, Open: open(Pass, Upflow, Backwash)},
			{ID: "brine", Name: "Brine draw and slow rinse", AngleDeg: 144, Seconds: 3600, Open: open(Pass, Rinse, Motive, Brine)},
			{ID: "fast-rinse", Name: "Fast rinse", AngleDeg: 216, Seconds: 600, Open: open(Inlet, Pass, Rinse)},
			{ID: "refill", Name: "Refill", AngleDeg: 288, Seconds: 480, Open: open(Inlet, Outlet, Brine)},
		},
	}
	got := Standard()
	got.Why, got.MaxRefillS = "", 0
	for i := range got.Stops {
		got.Stops[i].Why = ""
	}
	require.Equal(t, want, got)
}

func open(seats ...Seat) (o [NumSeats]bool) {
	for _, s := range seats {
		o[s] = true
	}
	return o
}

func TestCallersOwnTheirPrograms(t *testing.T) {
	p := Standard()
	p.Stops[1].Seconds = 1
	p.Stops[0].Open[Rinse] = true
	require.NotEqual(t, p, Standard())
	require.Equal(t, 600.0, Standard().Stops[1].Seconds)
	ProgramIDs()[0] = "other"
	require.Equal(t, "standard", ProgramIDs()[0])
}

// Which seats stand open at every stop: the standard program by the table of
// section 2 of the design, the others by their plumbing.
func TestSeatsOpenAtEveryStop(t *testing.T) {
	const (
		service    = "service: inlet outlet"
		backwash   = "backwash: pass upflow backwash"
		brine      = "brine: pass rinse motive brine"
		fastRinse  = "fast-rinse: inlet pass rinse"
		refillStop = "refill: inlet outlet brine"

		upflowBrine = "brine: pass backwash motive brine"
	)
	rows := map[string][]string{
		"standard":        {service, backwash, brine, fastRinse, refillStop},
		"long-slow-rinse": {service, backwash, brine, fastRinse, refillStop},
		"double-refill":   {service, backwash, brine, fastRinse, refillStop, refillStop},
		"water-saving":    {service, backwash, brine, fastRinse, refillStop},
		"counter-current": {service, upflowBrine, fastRinse, refillStop},
		"brine-first":     {service, upflowBrine, backwash, fastRinse, refillStop},

		"refill-before-rinse": {service, backwash, brine, "refill: pass upflow brine", fastRinse},
	}
	for _, p := range programs(t) {
		require.Len(t, p.Stops, len(rows[p.ID]), p.ID)
		for i, row := range rows[p.ID] {
			st := p.Stops[i]
			id, seats, _ := strings.Cut(row, ":")
			require.Equal(t, id, st.ID)
			for seat := range NumSeats {
				want := 0.0
				if strings.Contains(seats+" ", " "+seat.String()+" ") {
					want = 1
				}
				for _, deg := range []float64{st.AngleDeg, st.AngleDeg + 360, st.AngleDeg - 720, st.AngleDeg + 2, st.AngleDeg - 2} {
					require.Equal(t, want, p.Lift(seat, deg), "%s: %s at %s, %v°", p.ID, seat, st.ID, deg)
				}
			}
		}
	}
}

// How the programs differ is what they are for.
func TestProgramsDoWhatTheyAreFor(t *testing.T) {
	seconds := func(id, stop string) (sum float64) {
		p, _ := ProgramNamed(id)
		for _, st := range p.Stops {
			if st.ID == stop {
				sum += st.Seconds
			}
		}
		return sum
	}
	require.Greater(t, seconds("long-slow-rinse", "brine"), seconds("standard", "brine"))
	require.Equal(t, seconds("standard", "backwash"), seconds("long-slow-rinse", "backwash"))
	require.Greater(t, seconds("double-refill", "refill"), seconds("standard", "refill"))
	require.Less(t, seconds("water-saving", "backwash"), 0.5*seconds("standard", "backwash"))
	require.Less(t, seconds("water-saving", "fast-rinse"), 0.5*seconds("standard", "fast-rinse"))
	require.Equal(t, seconds("standard", "brine"), seconds("water-saving", "brine"))
	for _, p := range programs(t) {
		require.Equal(t, p.ID == "counter-current" || p.ID == "brine-first", p.InjectorDischargesBelow, p.ID)
		require.Equal(t, p.ID == "double-refill", p.Refills() == 2, p.ID)
	}
}

// served reports whether a way from the supply to the house is fully open.
func served(p *Program, deg float64) bool {
	wide := func(s Seat) bool { return p.Lift(s, deg) == 1 }
	return wide(Pass) || wide(Outlet) && (wide(Inlet) || wide(Upflow))
}

func TestHouseAlwaysHasAPath(t *testing.T) {
	for _, p := range programs(t) {
		for deg := 0.0; deg < 360; deg += 0.05 {
			require.True(t, served(&p, deg), "%s, %v°", p.ID, deg)
		}
	}
}

// Supply and drain must not meet through two half-open seats while the drum travels.
func TestShuttingSeatsShutBeforeOthersOpen(t *testing.T) {
	for _, p := range programs(t) {
		for i, from := range p.Stops {
			next, end := p.Stops[(i+1)%len(p.Stops)], 360.0
			if i+1 < len(p.Stops) {
				end = next.AngleDeg
			}
			for k := range 1000 {
				deg := from.AngleDeg + (end-from.AngleDeg)*float64(k)/1000
				shutting, opening := 0.0, 0.0
				for s := range NumSeats {
					if s == Pass {
						continue
					}
					if from.Open[s] && !next.Open[s] {
						shutting = math.Max(shutting, p.Lift(s, deg))
					}
					if !from.Open[s] && next.Open[s] {
						opening = math.Max(opening, p.Lift(s, deg))
					}
				}
				require.Zero(t, math.Min(shutting, opening), "%s, %v°", p.ID, deg)
			}
		}
	}
}

// A unit of 0.4 gpm that needs 2 gal has water running for 300 s.
func TestRefillStopsShareTheTimeThatTheTravelLeaves(t *testing.T) {
	rows := []struct {
		id                    string
		travelS, stopS, mostS float64
	}{
		{"standard", 24, 276, 924},         // 72° at 3°/s before and after, half of each
		{"double-refill", 40, 130, 1840},   // 60° thrice, the middle one whole
		{"counter-current", 30, 270, 1230}, // 90°
	}
	for _, row := range rows {
		p, _ := ProgramNamed(row.id)
		require.Equal(t, row.travelS, p.RefillTravelS(), row.id)
		require.Equal(t, row.stopS, p.RefillStopS(300), row.id)
		require.Equal(t, row.mostS, p.LongestRefillS(), row.id)
		require.Equal(t, p.MaxRefillS, p.RefillStopS(p.LongestRefillS()), row.id)
		require.Zero(t, p.RefillStopS(5), row.id)
	}
	none := Standard()
	none.Stops = none.Stops[:4]
	require.Zero(t, none.RefillTravelS())
	require.Zero(t, none.RefillStopS(300))
	require.Zero(t, none.LongestRefillS())
}

// The mean lift of the brine seat over a travel that opens or shuts it is below a
// half, but a control regulates long before its seat is wide open: the time that
// the seat is off its disc is half of the travel.
func TestRefillTravelIsTheTimeThatTheBrineSeatIsOffItsDisc(t *testing.T) {
	for _, p := range programs(t) {
		offS := 0.0
		travel := func(from, to float64) {
			const stepDeg = 0.01
			for deg := from; deg < to; deg += stepDeg {
				if p.Lift(Brine, deg) > 0.001 {
					offS += stepDeg / p.DrumDegS
				}
			}
		}
		for i := range p.Stops {
			if p.Stops[i].ID != "refill" {
				continue
			}
			travel(p.Stops[i-1].AngleDeg, p.Stops[i].AngleDeg)
			switch {
			case i == len(p.Stops)-1:
				travel(p.Stops[i].AngleDeg, 360)
			case p.Stops[i+1].ID != "refill":
				travel(p.Stops[i].AngleDeg, p.Stops[i+1].AngleDeg)
			}
		}
		require.InEpsilon(t, p.RefillTravelS(), offS, 0.05, p.ID)
	}
}

func TestLiftIsSmoothAndBounded(t *testing.T) {
	for _, p := range programs(t) {
		for seat := range NumSeats {
			last := p.Lift(seat, 0)
			for deg := 0.0; deg <= 360; deg += 0.1 {
				l := p.Lift(seat, deg)
				require.True(t, l >= 0 && l <= 1)
				require.InDelta(t, last, l, 0.0125, "%s: %s at %v°", p.ID, seat, deg)
				last = l
			}
		}
	}
}

func TestSeatOpenAtNeighbouringStopsStaysOpen(t *testing.T) {
	p := Standard()
	for deg := 216.0; deg <= 360; deg += 0.5 {
		require.Equal(t, 1.0, p.Lift(Inlet, deg)) // fast rinse, refill, service
	}
	for deg := 72.0; deg <= 216; deg += 0.5 {
		require.Equal(t, 1.0, p.Lift(Pass, deg)) // backwash, brine, fast rinse
	}
}

func TestValidateFindsEveryFault(t *testing.T) {
	p := Standard()
	p.DrumDegS = math.NaN()
	p.MaxRefillS = -1
	p.Stops[1].AngleDeg = math.Inf(1)
	p.Stops[2].Seconds = -1
	p.Stops[3].ID = "service"
	p.Stops[4].Open = [NumSeats]bool{}
	text := ""
	for _, err := range p.Validate() {
		text += err.Error() + "\n"
	}
	for _, want := range []string{
		"drum_deg_s: NaN", "max_refill_s: -1", "stops[1].angle_deg: +Inf", "stops[2].angle_deg: 144 does not come after +Inf",
		"stops[2].seconds: -1", "stops[3].id", "stops[4].open: neither",
	} {
		require.Contains(t, text, want)
	}
}

func TestValidateFindsAHouseCutOff(t *testing.T) {
	rows := []struct {
		name   string
		change func(p *Program)
		want   string
	}{
		{"outlet that nothing feeds", func(p *Program) { p.Stops[4].Open = open(Outlet, Brine) }, `stops[4].open: "outlet", but neither`},
		{"fed from above, then from below", func(p *Program) { p.Stops[1].Open = open(Upflow, Outlet) }, "stops[0].open: on the way"},
		{"the same on the way home", func(p *Program) { p.Stops[4].Open = open(Upflow, Outlet) }, "stops[4].open: on the way"},
		{"a stop that is not a refill twice", func(p *Program) { p.Stops[3].ID = "backwash" }, `stops[3].id: "backwash" comes a second time`},
	}
	for _, row := range rows {
		p := Standard()
		row.change(&p)
		errs := p.Validate()
		require.NotEmpty(t, errs, row.name)
		require.ErrorContains(t, errs[0], row.want, row.name)
	}
	p := Standard()
	p.Stops[3].ID = "refill"
	require.Empty(t, p.Validate())
}

func BenchmarkStandard(b *testing.B) {
	for range b.N {
		Standard()
	}
}

func BenchmarkLift(b *testing.B) {
	p := Standard()
	for i := range b.N {
		p.Lift(Seat(i%int(NumSeats)), float64(i%360))
	}
}
