package viewmodel

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/game/say"
	"brinebench/sim"
)

// openable are the parts that change the picture when they are taken out.
var openable = []sim.Part{
	sim.PartInjector, sim.PartScreen, sim.PartDrainCtl, sim.PartRefillCtl, sim.PartBrineLine,
	sim.PartDrainLine, sim.PartSeats, sim.PartBypass, sim.PartFloat, sim.PartAirCheck, sim.PartBrineTank,
	sim.PartSupply, sim.PartMeter, sim.PartDrum, sim.PartMotor, sim.PartRiser, sim.PartBed, sim.PartUpperDist, sim.PartLowerDist,
}

// sound is the condition of a unit with nothing wrong, as the engine gives it.
func sound() sim.Condition {
	c := sim.Condition{
		NozzleOpen: 1, ThroatOpen: 1, ScreenOpen: 1, InjectorScale: 1, BrineLineOpen: 1, RefillOpen: 1, RefillScale: 1,
		SaltLeft: 1, DrainLineOpen: 1, DrainCtlOpen: 1, DrainCtlScale: 1, MeterTurns: 1, MeterWired: 1, DaysSet: 1,
		HardnessSet: 1, CapacitySet: 1, DoseSet: 1, UpperDistOpen: 1, LowerDistOpen: 1, SupplyScale: 1, FeedHarder: 1,
	}
	for i := range c.SeatCap {
		c.SeatCap[i] = 1
	}
	return c
}

// ailment is a fault of a part that opening it shows.
type ailment struct {
	part sim.Part
	name string
	make func(c *sim.Condition)
}

var ailments = []ailment{
	{sim.PartInjector, "nozzle plugged", func(c *sim.Condition) { c.NozzleOpen = 0.1 }},
	{sim.PartInjector, "nozzle worn wide", func(c *sim.Condition) { c.NozzleWear = 1 }},
	{sim.PartInjector, "throat scaled", func(c *sim.Condition) { c.ThroatOpen = 0.2 }},
	{sim.PartInjector, "throat washed out", func(c *sim.Condition) { c.ThroatWear = 1 }},
	{sim.PartInjector, "too small", func(c *sim.Condition) { c.InjectorScale = 0.6 }},
	{sim.PartInjector, "too large", func(c *sim.Condition) { c.InjectorScale = 1.6 }},
	{sim.PartScreen, "plugged", func(c *sim.Condition) { c.ScreenOpen = 0.02 }},
	{sim.PartBrineLine, "kinked", func(c *sim.Condition) { c.BrineLineOpen = 0.01 }},
	{sim.PartBrineLine, "takes air", func(c *sim.Condition) { c.BrineAirM = 0.0007 }},
	{sim.PartBrineLine, "frozen", func(c *sim.Condition) { c.BrineIce = 0.99 }},
	{sim.PartAirCheck, "stuck", func(c *sim.Condition) { c.AirCheckShut = 1 }},
	{sim.PartAirCheck, "split", func(c *sim.Condition) { c.AirCheckOpen = 1 }},
	{sim.PartAirCheck, "too high", func(c *sim.Condition) { c.AirCheckHigh = 0.95 }},
	{sim.PartRefillCtl, "plugged", func(c *sim.Condition) { c.RefillOpen = 0.05 }},
	{sim.PartRefillCtl, "too small", func(c *sim.Condition) { c.RefillScale = 0.3 }},
	{sim.PartRefillCtl, "too large", func(c *sim.Condition) { c.RefillScale = 2.2 }},
	{sim.PartFloat, "low", func(c *sim.Condition) { c.FloatLowM = 0.35 }},
	{sim.PartFloat, "stuck", func(c *sim.Condition) { c.FloatStuck = 1 }},
	{sim.PartFloat, "loose", func(c *sim.Condition) { c.FloatLoose = 1 }},
	{sim.PartBrineTank, "seep", func(c *sim.Condition) { c.TankSeepM3S = 2e-7 }},
	{sim.PartBrineTank, "cracked", func(c *sim.Condition) { c.TankCrackM = 0.001 }},
	{sim.PartDrainLine, "blocked", func(c *sim.Condition) { c.DrainLineOpen = 0.01 }},
	{sim.PartDrainLine, "frozen", func(c *sim.Condition) { c.DrainIce = 0.99 }},
	{sim.PartDrainLine, "too high", func(c *sim.Condition) { c.DrainUpM = 9 }},
	{sim.PartDrainCtl, "plugged", func(c *sim.Condition) { c.DrainCtlOpen = 0.02 }},
	{sim.PartDrainCtl, "too small", func(c *sim.Condition) { c.DrainCtlScale = 0.3 }},
	{sim.PartDrainCtl, "too large", func(c *sim.Condition) { c.DrainCtlScale = 2.2 }},
	{sim.PartDrainCtl, "missing", func(c *sim.Condition) { c.DrainCtlGone = 1 }},
	{sim.PartSeats, "worn", func(c *sim.Condition) { c.SeatLeakCv[sim.SeatPass] = 1.2 }},
	{sim.PartSeats, "hangs open", func(c *sim.Condition) { c.SeatHeld[sim.SeatBrine] = 1 }},
	{sim.PartSeats, "stuck shut", func(c *sim.Condition) { c.SeatCap[sim.SeatInlet] = 0 }},
	{sim.PartRiser, "seal torn", func(c *sim.Condition) { c.RiserSealCv = 2.5 }},
	{sim.PartRiser, "cracked", func(c *sim.Condition) { c.RiserCrackCv = 2.5 }},
	{sim.PartUpperDist, "packed", func(c *sim.Condition) { c.UpperDistOpen = 0.05 }},
	{sim.PartLowerDist, "broken", func(c *sim.Condition) { c.LowerDistGap = 1 }},
	{sim.PartLowerDist, "packed", func(c *sim.Condition) { c.LowerDistOpen = 0.05 }},
	{sim.PartBed, "lost", func(c *sim.Condition) { c.BedLost = 0.75 }},
	{sim.PartBed, "rusty", func(c *sim.Condition) { c.BedRust = 0.45 }},
	{sim.PartBed, "soft", func(c *sim.Condition) { c.BedCut = 0.95 }},
	{sim.PartBed, "channelled", func(c *sim.Condition) { c.BedChannel = 0.35 }},
	{sim.PartDrum, "slipped", func(c *sim.Condition) { c.DrumSlipDeg = 40 }},
	{sim.PartDrum, "switch off", func(c *sim.Condition) { c.SensorLost = 1 }},
	{sim.PartMotor, "dead", func(c *sim.Condition) { c.MotorDead = 1 }},
	{sim.PartMotor, "stripped", func(c *sim.Condition) { c.GearStripped = 1 }},
	{sim.PartMeter, "jammed", func(c *sim.Condition) { c.MeterTurns = 0 }},
	{sim.PartMeter, "cable off", func(c *sim.Condition) { c.MeterWired = 0 }},
	{sim.PartBypass, "worn", func(c *sim.Condition) { c.BypassLeakCv = 3 }},
	{sim.PartBypass, "ajar", func(c *sim.Condition) { c.BypassAjar = 1 }},
	{sim.PartBypass, "lines crossed", func(c *sim.Condition) { c.LinesCrossed = 1 }},
	{sim.PartSupply, "low", func(c *sim.Condition) { c.SupplyScale = 0.2 }},
	{sim.PartSupply, "high", func(c *sim.Condition) { c.SupplyScale = 2.2 }},
}

// opened is a view with one part open in a condition.
func opened(p sim.Part, ail func(c *sim.Condition)) *sim.View {
	v := &sim.View{Opened: []sim.Part{p}, Condition: sound()}
	if ail != nil {
		ail(&v.Condition)
	}
	return v
}

func TestLetteringsStayApartWhenAPartIsOpen(t *testing.T) {
	for _, lang := range say.Langs {
		speak(t, lang)
		m := goMeasure(t)
		for _, size := range stages {
			for _, a := range withSound() {
				p := a.part
				s := Build(size[0], size[1], testSetup(), Options{Units: pageUnits{}, Inside: opened(p, a.make), Measure: m})
				requireApart(t, s, letterings(t, s, m))
				requireCard(t, s, m, string(p))
			}
		}
	}
}

// requireCard asks that what is written on the card is inside it and apart.
func requireCard(t *testing.T, s *Scene, m Measure, p string) {
	t.Helper()
	var card []lettering
	for _, l := range s.CardText {
		r := Rect{l.X, l.Y, m(l.Text, l.Size, l.Bold), l.Size * 1.15}
		require.True(t, s.Inset.Contains(Pt{r.X, r.Y}) && s.Inset.Contains(Pt{r.X + r.W, r.Y + r.H}), "%s at %gx%g: %q leaves its card", p, s.W, s.H, l.Text)
		card = append(card, lettering{l.Text, r})
	}
	requireApart(t, s, card)
}

func TestOpenedPartIsDrawnInsideItsCard(t *testing.T) {
	for _, size := range stages {
		for _, a := range withSound() {
			s := Build(size[0], size[1], testSetup(), Options{Units: pageUnits{}, Inside: opened(a.part, a.make), Measure: goMeasure(t)})
			require.NotEmpty(t, s.Card, a.part)
			card := s.Inset.Inset(-3)
			for _, op := range s.Card {
				for _, pt := range op.Pts {
					require.True(t, card.Contains(pt), "%s %s at %gx%g: %v outside %v", a.part, a.name, size[0], size[1], pt, s.Inset)
				}
			}
		}
	}
}

// withSound is every ailment, and every part that can be opened without one.
func withSound() []ailment {
	all := slices.Clone(ailments)
	for _, p := range openable {
		all = append(all, ailment{p, "sound", nil})
	}
	return all
}

func TestEveryPartOfACallIsInThePictureAndInsideWhenItOpens(t *testing.T) {
	const file = "hard-water-at-the-mill-house.json"
	data, err := os.ReadFile("../../scenarios/" + file)
	require.NoError(t, err)
	call, err := sim.Open(file, data, 1)
	require.NoError(t, err)
	s := Build(1000, 640, call.Setup(), Options{Units: pageUnits{}})
	for _, p := range call.Setup().Parts {
		_, shown := s.PartBox(p.ID)
		require.True(t, shown, "%s is nowhere in the picture", p.ID)
		require.Equal(t, p.CanOpen, insetOf(p.ID) != nil, "the inside of %s", p.ID)
		require.Equal(t, p.CanOpen, slices.Contains(openable, p.ID), "the tests of %s", p.ID)
	}
}

func TestEveryAilmentShowsInItsPartAndInNoOther(t *testing.T) {
	card := func(p sim.Part, a *ailment) *Scene {
		var do func(c *sim.Condition)
		if a != nil {
			do = a.make
		}
		return Build(1000, 640, testSetup(), Options{Units: pageUnits{}, Inside: opened(p, do)})
	}
	for _, p := range openable {
		healthy, seen := card(p, nil), 0
		var drawn []*Scene
		for i := range ailments {
			a := &ailments[i]
			now := card(p, a)
			if a.part != p {
				require.Equal(t, healthy.Card, now.Card, "%s: %s of %s", p, a.name, a.part)
				continue
			}
			seen++
			require.NotEqual(t, healthy.Card, now.Card, "%s: %s", p, a.name)
			for _, other := range drawn {
				require.NotEqual(t, other.Card, now.Card, "%s: %s looks like another", p, a.name)
			}
			drawn = append(drawn, now)
			require.True(t, marksWrong(now), "%s: %s in its colour", p, a.name)
		}
		require.Positive(t, seen, p)
		require.False(t, marksWrong(healthy), "%s: nothing is wrong", p)
	}
}

// marksWrong tells whether a card has anything in the colours of what is wrong.
func marksWrong(s *Scene) bool {
	wrong := func(r Role) bool { return r == Wrong || r == Grit }
	return slices.ContainsFunc(s.Card, func(op Op) bool { return wrong(op.Role) }) ||
		slices.ContainsFunc(s.CardText, func(l Placed) bool { return wrong(l.Role) })
}

func TestKeyChangesWithWhatAnOpenedPartShows(t *testing.T) {
	shut, open, cleaned := &sim.View{}, &sim.View{Opened: []sim.Part{sim.PartInjector}}, &sim.View{Opened: []sim.Part{sim.PartInjector}}
	shut.Controller.Powered = true
	shut.Condition.NozzleOpen, open.Condition.NozzleOpen, cleaned.Condition.NozzleOpen = 0.3, 0.3, 1
	require.Equal(t, InsideKey{}, KeyOf(shut), "a shut part gives nothing away")
	require.NotEqual(t, KeyOf(open), KeyOf(shut))
	require.NotEqual(t, KeyOf(open), KeyOf(cleaned))
	unplugged := &sim.View{}
	require.NotEqual(t, KeyOf(shut), KeyOf(unplugged), "the plug is seen")
	many, fewer := &sim.View{Opened: openable}, &sim.View{Opened: openable[1:]}
	require.NotEqual(t, KeyOf(many), KeyOf(fewer), "the first of many was put back")
	require.LessOrEqual(t, len(openable), len(InsideKey{}.parts))
}

// TestAValveThatIsOffHasRunOut looks at what opens downwards in each layer, with the valve on
// its tank and off it.
func TestAValveThatIsOffHasRunOut(t *testing.T) {
	pal, set := PaletteFor(false), testSetup()
	for _, layers := range []Layers{{}, {Pressure: true}, {Plain: true}} {
		for p, off := range map[sim.Part]bool{sim.PartUpperDist: true, sim.PartInjector: false} {
			v := &sim.View{Condition: sound(), Opened: []sim.Part{p}, Dry: off}
			var f Frame
			f.Update(Build(1000, 640, set, Options{Units: pageUnits{}, Inside: v, Layers: layers}), v, set, pal)
			for _, src := range []Src{SrcTankHead, SrcRiserHead, SrcReturn} {
				require.Equal(t, off, f.Colour[src] == pal.Role[Paper], "%+v, %s", layers, p)
			}
		}
	}
}

// TestForTheRiserTheTankIsEmptied takes the lower distributor out, and then the upper alone.
func TestForTheRiserTheTankIsEmptied(t *testing.T) {
	set, pal := testSetup(), PaletteFor(false)
	for p, emptied := range map[sim.Part]bool{sim.PartLowerDist: true, sim.PartUpperDist: false, sim.PartRiser: false} {
		v := &sim.View{Condition: sound(), Opened: []sim.Part{p}}
		v.Bed.DepthM, v.Bed.RestDepthM = set.BedDepthM, set.BedDepthM
		s := Build(1000, 640, set, Options{Units: pageUnits{}, Inside: v})
		var f Frame
		f.Update(s, v, set, pal)
		require.Equal(t, emptied, f.Share == 0 && f.BedTop == s.Bed.Floor, p)
		named := slices.ContainsFunc(s.Labels, func(l Placed) bool { return l.Text == "resin bed" || l.Text == "bed" })
		require.Equal(t, !emptied, named, p)
	}
}

// TestATankThatWasEmptiedStaysDryUntilWaterIsLetIn has everything put back, before the water
// comes and after.
func TestATankThatWasEmptiedStaysDryUntilWaterIsLetIn(t *testing.T) {
	pal, set := PaletteFor(false), testSetup()
	paper := pal.Role[Paper]
	for _, row := range []struct {
		situation  string
		v          sim.View
		head, tank bool // dry
	}{
		{"the valve was off", sim.View{Dry: true}, true, false},
		{"the tank was emptied", sim.View{Dry: true, Emptied: true}, true, true},
		{"water again", sim.View{}, false, false},
	} {
		v := row.v
		v.Condition = sound()
		var f Frame
		f.Update(Build(1000, 640, set, Options{Units: pageUnits{}, Inside: &v}), &v, set, pal)
		require.Equal(t, row.head, f.Colour[SrcTankHead] == paper, row.situation)
		for _, src := range []Src{SrcFreeboard, SrcFreeboard + sim.BedLayers - 1, SrcPlenum, Src(sim.PathRiser)} {
			require.Equal(t, row.tank, f.Colour[src] == paper, "%s: %d", row.situation, src)
		}
	}
}

// TestTheFrameOfTheSeatsHoldsThemAll frames the seats, which are one part of eight places.
func TestTheFrameOfTheSeatsHoldsThemAll(t *testing.T) {
	s := Build(1000, 640, testSetup(), Options{Units: pageUnits{}})
	box, shown := s.PartBox(sim.PartSeats)
	require.True(t, shown)
	for i := range s.Seats {
		require.True(t, box.Contains(Pt{s.Seats[i].X, s.Seats[i].PlateY}), sim.Seat(i))
	}
}

// TestAValveThatIsOffStandsClearOfTheTank opens what stands under the valve, and what does not.
func TestAValveThatIsOffStandsClearOfTheTank(t *testing.T) {
	for _, size := range stages {
		shut := Build(size[0], size[1], testSetup(), Options{Units: pageUnits{}, Inside: &sim.View{Condition: sound()}})
		for _, p := range openable {
			s := Build(size[0], size[1], testSetup(), Options{Units: pageUnits{}, Inside: &sim.View{Condition: sound(), Opened: []sim.Part{p}}})
			lower := s.Bed.Box.Y - shut.Bed.Box.Y
			if sim.ValveOff([]sim.Part{p}) {
				require.InDelta(t, offGap*s.Unit, lower, 1e-9, p)
			} else {
				require.Zero(t, lower, p)
			}
		}
	}
}

func TestConditionShowsOnlyInOpenedParts(t *testing.T) {
	fine, worn := &sim.View{Condition: sound()}, &sim.View{Condition: sound()}
	worn.Condition.NozzleOpen, worn.Condition.ScreenOpen, worn.Condition.SeatLeakCv[sim.SeatPass] = 0.1, 0.1, 1
	require.Equal(t, Build(1000, 640, testSetup(), Options{Units: pageUnits{}, Inside: fine}), Build(1000, 640, testSetup(), Options{Units: pageUnits{}, Inside: worn}))
	fine.Opened, worn.Opened = []sim.Part{sim.PartInjector}, []sim.Part{sim.PartInjector}
	require.NotEqual(t, Build(1000, 640, testSetup(), Options{Units: pageUnits{}, Inside: fine}).Card, Build(1000, 640, testSetup(), Options{Units: pageUnits{}, Inside: worn}).Card)
}

func TestChosenPartIsShownAsItShouldBeUntilItIsOpened(t *testing.T) {
	m := goMeasure(t)
	for _, size := range stages {
		for _, p := range openable {
			v := &sim.View{Condition: sound()}
			s := Build(size[0], size[1], testSetup(), Options{Units: pageUnits{}, Inside: v, Chosen: p, Measure: m})
			if s.Tall {
				require.Empty(t, s.Card, "a tall picture has no room beside its parts")
				continue
			}
			require.NotEmpty(t, s.Card, p)
			require.False(t, marksWrong(s), p)
			require.True(t, slices.ContainsFunc(s.CardText, func(l Placed) bool { return strings.Contains(l.Text, "open it to see") }), "%s at %v", p, size)
			requireApart(t, s, letterings(t, s, m))
			requireCard(t, s, m, string(p))
		}
	}
}

// A session masks the figures of parts that are shut: see sim.View's Condition.
func TestSectionOfAnUnopenedPartTellsNothingOfItsFault(t *testing.T) {
	const file = "half-soft-at-the-orchard.json" // its riser seal is torn
	data, err := os.ReadFile("../../scenarios/" + file)
	require.NoError(t, err)
	text := strings.Replace(string(data), `"days": 14, "days_since_regeneration": 2`, `"days": 1, "days_since_regeneration": 1`, 1)
	require.Contains(t, text, `"riser-seal"`)
	call := open(t, file, text)
	var v sim.View
	call.View(&v)
	require.Empty(t, v.Opened)
	for _, p := range openable {
		s := Build(1000, 640, call.Setup(), Options{Units: pageUnits{}, Inside: &v, Chosen: p})
		require.False(t, marksWrong(s), p)
	}
}

func TestAnOpenedPartThatIsChosenShowsBeforeOthers(t *testing.T) {
	v := &sim.View{Opened: []sim.Part{sim.PartInjector, sim.PartScreen}, Condition: sound()}
	build := func(p sim.Part) *Scene {
		return Build(1000, 640, testSetup(), Options{Units: pageUnits{}, Inside: v, Chosen: p})
	}
	require.Equal(t, "injector screen, taken out", build("").CardText[0].Text, "the one opened last")
	require.Equal(t, "injector, taken out", build(sim.PartInjector).CardText[0].Text)
	require.Equal(t, "injector screen, taken out", build(sim.PartShutOff).CardText[0].Text, "a part without a section")
}

func TestOnTheBenchAPartIsShownAsItIsWithoutOpeningIt(t *testing.T) {
	m := goMeasure(t)
	for _, a := range ailments {
		v := opened(a.part, a.make)
		v.Opened, v.Bared = nil, true
		s := Build(1440, 900, testSetup(), Options{Units: pageUnits{}, Inside: v, Chosen: a.part, Measure: m})
		require.NotEmpty(t, s.Card, a.name)
		require.False(t, slices.ContainsFunc(s.CardText, func(l Placed) bool { return strings.Contains(l.Text, "open it") }), a.name)
		sound := opened(a.part, nil)
		sound.Opened, sound.Bared = nil, true
		require.NotEqual(t, KeyOf(sound), KeyOf(v), "%s: the picture is made anew", a.name)
		require.NotEqual(t, Build(1440, 900, testSetup(), Options{Units: pageUnits{}, Inside: sound, Chosen: a.part, Measure: m}).Card, s.Card, a.name)
	}
}

func TestSaltIsNamedWhereThereIsSalt(t *testing.T) {
	m := goMeasure(t)
	named := func(topM float64) (y float64, named bool) {
		v := &sim.View{Condition: sound()}
		v.Tank.SaltTopM = topM
		s := Build(1440, 900, testSetup(), Options{Units: pageUnits{}, Inside: v, Measure: m})
		for _, l := range s.Labels {
			if l.Text == "salt" {
				return l.Y, true
			}
		}
		return 0, false
	}
	_, none := named(0)
	require.False(t, none)
	low, little := named(0.1)
	high, much := named(0.5)
	require.True(t, little && much)
	require.Greater(t, low, high, "it follows the salt down")
	require.NotEqual(t, KeyOf(&sim.View{Tank: sim.TankView{SaltTopM: 0.1}}), KeyOf(&sim.View{}), "the picture is made anew")
}
