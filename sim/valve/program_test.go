package valve

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestStandardProgramIsSound(t *testing.T) {
	p := Standard()
	require.Empty(t, p.Validate())
}

// The table of section 2 of the design.
func TestSeatsOpenAtEveryStop(t *testing.T) {
	rows := []struct {
		stop string
		open string
	}{
		{"service", "inlet outlet"},
		{"backwash", "pass upflow backwash"},
		{"brine", "pass rinse motive brine"},
		{"fast-rinse", "inlet pass rinse"},
		{"refill", "inlet outlet brine"},
	}
	p := Standard()
	require.Len(t, p.Stops, len(rows))
	for i, row := range rows {
		st := p.Stops[i]
		require.Equal(t, row.stop, st.ID)
		for seat := range NumSeats {
			want := 0.0
			if strings.Contains(" "+row.open+" ", " "+seat.String()+" ") {
				want = 1
			}
			for _, deg := range []float64{st.AngleDeg, st.AngleDeg + 360, st.AngleDeg - 720, st.AngleDeg + 2, st.AngleDeg - 2} {
				require.Equal(t, want, p.Lift(seat, deg), "%s at %s, %v°", seat, st.ID, deg)
			}
		}
	}
}

func TestHouseAlwaysHasAPath(t *testing.T) {
	p := Standard()
	for deg := 0.0; deg < 360; deg += 0.05 {
		require.GreaterOrEqual(t, math.Max(p.Lift(Pass, deg), p.Lift(Outlet, deg)), 1.0, "%v°", deg)
	}
}

// Supply and drain must not meet through two half-open seats while the drum travels.
func TestShuttingSeatsShutBeforeOthersOpen(t *testing.T) {
	p := Standard()
	for i, from := range p.Stops {
		next := p.Stops[(i+1)%len(p.Stops)]
		for k := range 1000 {
			deg := from.AngleDeg + 0.072*float64(k)
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
			require.Zero(t, math.Min(shutting, opening), "%v°", deg)
		}
	}
}

func TestLiftIsSmoothAndBounded(t *testing.T) {
	p := Standard()
	for seat := range NumSeats {
		last := p.Lift(seat, 0)
		for deg := 0.0; deg <= 360; deg += 0.1 {
			l := p.Lift(seat, deg)
			require.True(t, l >= 0 && l <= 1)
			require.InDelta(t, last, l, 0.0105, "%s at %v°", seat, deg)
			last = l
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
	p.Stops[1].AngleDeg = math.Inf(1)
	p.Stops[2].Seconds = -1
	p.Stops[3].ID = "service"
	p.Stops[4].Open = [NumSeats]bool{}
	text := ""
	for _, err := range p.Validate() {
		text += err.Error() + "\n"
	}
	for _, want := range []string{
		"drum_deg_s: NaN", "stops[1].angle_deg: +Inf", "stops[2].angle_deg: 144 does not come after +Inf",
		"stops[2].seconds: -1", "stops[3].id", "stops[4].open: neither",
	} {
		require.Contains(t, text, want)
	}
}

func BenchmarkLift(b *testing.B) {
	p := Standard()
	for i := range b.N {
		p.Lift(Seat(i%int(NumSeats)), float64(i%360))
	}
}
