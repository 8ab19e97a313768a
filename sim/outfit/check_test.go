package outfit

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestSetsFitThemselves(t *testing.T) {
	for _, s := range All() {
		for _, lb := range s.SaltLb {
			for _, psi := range []float64{45, 55, 80} {
				for _, waterC := range []float64{5, usual.WaterC, 25} {
					site := Site{WaterC: waterC, SupplyPSI: psi, SaltLb: lb}
					if psi < 55 && lb == s.SaltLb[2] {
						continue // see TestLowPressureAsksForALongSlowRinse
					}
					require.Empty(t, Check(s.Tank, s.Parts, site), "%s, %+v", s.ID, site)
				}
			}
		}
	}
}

// What each program is for, seen from the parts.
func TestProgramsFitWhatTheyAreFor(t *testing.T) {
	for _, s := range All() {
		low, middle, high := s.SaltLb[0], s.SaltLb[1], s.SaltLb[2]
		fit := func(program string, lb float64) []string {
			return ids(Check(s.Tank, run(t, &s, program), usual.with(lb)))
		}
		for _, program := range []string{"standard", "long-slow-rinse", "water-saving", "double-refill", "counter-current"} {
			require.Empty(t, fit(program, low), "%s, %s", s.ID, program)
			require.Empty(t, fit(program, middle), "%s, %s", s.ID, program)
		}
		require.Empty(t, fit("double-refill", high), s.ID)
		if s.ProgramID == "double-refill" {
			require.Contains(t, fit("standard", high), "refill-control-small", s.ID)
			require.Contains(t, fit("long-slow-rinse", high), "refill-control-small", s.ID)
		} else {
			require.Empty(t, fit("standard", high), s.ID)
		}
	}
}

func TestLowPressureAsksForALongSlowRinse(t *testing.T) {
	for _, s := range All() {
		site := Site{WaterC: usual.WaterC, SupplyPSI: 30, SaltLb: s.SaltLb[2]}
		require.Contains(t, ids(Check(s.Tank, run(t, &s, "standard"), site)), "program-short", s.ID)
		require.NotContains(t, ids(Check(s.Tank, run(t, &s, "long-slow-rinse"), site)), "program-short", s.ID)
	}
}

// Each row spoils one thing of a set that fits.
func TestPartsThatDoNotFitAreFound(t *testing.T) {
	part := func(id string) Set { s, _ := Named(id); return s }
	rows := []struct {
		situation string
		tank      string
		spoil     func(s *Set, site *Site)
		want      []string
	}{
		{"drain control of the 14 in tank", "tank-9-in", func(s *Set, _ *Site) { s.DrainControlGPM = part("tank-14-in").DrainControlGPM }, []string{"drain-control-carries"}},
		{"drain control of the 12 in tank on a low bed", "tank-9-in", func(s *Set, _ *Site) { s.DrainControlGPM, s.TankHeightIn = 3.9, 60 }, []string{"drain-control-large"}},
		{"drain control of the 8 in tank", "tank-14-in", func(s *Set, _ *Site) { s.DrainControlGPM = part("tank-8-in").DrainControlGPM }, []string{"drain-control-small"}},
		{"no drain control", "tank-9-in", func(s *Set, _ *Site) { s.DrainControlGPM = 12 }, []string{"drain-control-carries"}},
		{"injector of the 14 in tank", "tank-8-in", func(s *Set, _ *Site) { s.Injector = part("tank-14-in").Injector }, []string{"injector-large"}},
		{"injector of the 8 in tank", "tank-14-in", func(s *Set, _ *Site) { s.Injector = part("tank-8-in").Injector }, []string{"injector-small", "program-short", "refill-control-unmetered"}},
		{"nozzle of the 14 in tank in the throat of the 9 in", "tank-9-in", func(s *Set, _ *Site) { s.NozzleMM = 1.6 }, []string{"injector-large", "brine-weak", "program-short", "refill-control-unmetered"}},
		{"nozzle and throat changed over", "tank-9-in", func(s *Set, _ *Site) { s.NozzleMM, s.ThroatMM = s.ThroatMM, s.NozzleMM }, []string{"injector-no-draw", "refill-control-unmetered"}},
		{"nozzle too wide for the throat", "tank-9-in", func(s *Set, _ *Site) { s.NozzleMM = 1.3 }, []string{"injector-large", "brine-weak", "refill-control-unmetered"}},
		{"drain control that strangles the injector", "tank-9-in", func(s *Set, _ *Site) { s.DrainControlGPM = 0.3 }, []string{"drain-control-small", "brine-weak", "program-short"}},
		{"drain control all but shut", "tank-9-in", func(s *Set, _ *Site) { s.DrainControlGPM = 0.15 }, []string{"drain-control-small", "injector-no-draw"}},
		{"hardly any pressure", "tank-9-in", func(_ *Set, site *Site) { site.SupplyPSI = 1 }, []string{"injector-no-draw", "refill-control-unmetered"}},
		{"nozzle too narrow for the throat", "tank-9-in", func(s *Set, _ *Site) { s.NozzleMM = 0.8 }, []string{"brine-strong"}},
		{"downflow injector in upflow plumbing", "tank-9-in", func(s *Set, _ *Site) { s.ProgramID = "counter-current" }, []string{"injector-lifts-bed"}},
		{"cold water in upflow brining", "tank-9-in", func(s *Set, site *Site) {
			*site, s.ProgramID, s.Injector, s.RefillControlGPM = Site{4, 55, 10}, "counter-current", s.UpflowInjector, s.UpflowRefillControlGPM
		}, []string{"injector-lifts-bed"}},
		{"refill control a third", "tank-9-in", func(s *Set, _ *Site) { s.RefillControlGPM = 0.13 }, []string{"refill-control-small"}},
		{"refill control of the 14 in tank", "tank-9-in", func(s *Set, site *Site) { site.SaltLb, s.RefillControlGPM = 5, 0.9 }, []string{"refill-control-large", "refill-control-unmetered"}},
		{"brine tank of the 9 in tank", "tank-14-in", func(s *Set, _ *Site) { s.BrineTankIn, s.FloatIn = 18, 14 }, []string{"brine-tank-small"}},
		{"tank filled with too much resin", "tank-9-in", func(s *Set, _ *Site) { s.ResinFt3 = 1.4 }, []string{"resin-much", "drain-control-carries"}},
		{"tank filled with too little", "tank-9-in", func(s *Set, _ *Site) { s.ResinFt3 = 0.75 }, []string{"resin-little"}},
		{"supply too low for the refill control", "tank-9-in", func(_ *Set, site *Site) { site.SupplyPSI = 38 }, []string{"refill-control-unmetered"}},
		{"a dose of 20 lb/ft³", "tank-9-in", func(_ *Set, site *Site) { site.SaltLb = 20 }, []string{"program-short", "refill-control-small", "brine-tank-small"}},
	}
	for _, row := range rows {
		t.Run(row.situation, func(t *testing.T) {
			s := part(row.tank)
			site := usual.with(s.SaltLb[1])
			require.Empty(t, Check(s.Tank, s.Parts, site))
			row.spoil(&s, &site)
			list := Check(s.Tank, s.Parts, site)
			require.Equal(t, row.want, ids(list))
			for _, m := range list {
				t.Logf("%s: %s %s (%s)", m.Part, m.What, m.Why, m.Source)
				require.NotEmpty(t, m.Part)
				require.Regexp(t, `^[A-Z0-9].*\.$`, m.What)
				require.Regexp(t, `^[A-Z].*\.$`, m.Why)
				require.NotEmpty(t, m.Source)
			}
		})
	}
}

func TestUnknownProgramIsAMistakeOfTheProgrammer(t *testing.T) {
	s, _ := Named("tank-9-in")
	s.ProgramID = "none"
	require.PanicsWithValue(t, "outfit: no program is named none", func() { Check(s.Tank, s.Parts, usual.with(6)) })
}
