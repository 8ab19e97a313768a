package viewmodel

import (
	"fmt"
	"math"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"

	"brinebench/sim"
)

// stages are the sizes the picture must be good at, in CSS px.
var stages = [][2]float64{{1000, 640}, {927, 640}, {640, 484}, {695, 375}, {380, 368}, {700, 560}, {390, 430}, {390, 700}, {1600, 900}, {1280, 720}, {430, 500}, {374, 370}, {640, 360}, {820, 480}, {760, 1000}}

// testSetup is a unit of common size; its drum has one even lobe per open seat.
func testSetup() *sim.Setup {
	s := &sim.Setup{
		TankDiameterM: 0.254, TankHeightM: 1.22, BedDepthM: 0.66, BrineTankDiameterM: 0.46, BrineTankHeightM: 0.84,
		AirCheckM: 0.05, FloatM: 0.36, NozzleMM: 0.9, ThroatMM: 1.7, DrainControlGPM: 2.4, RefillControlGPM: 0.35,
		FeedHardnessMolM3: 4.3, SaturatedSaltMolM3: 5400, SupplyPa: 4e5,
	}
	for i, id := range []string{"service", "backwash", "brine", "fast-rinse", "refill"} {
		s.Stations = append(s.Stations, sim.Station{ID: id, Name: id, AngleDeg: float64(72 * i)})
	}
	for i := range s.Lobe {
		for a := 10 * i; a < 10*i+20; a++ {
			s.Lobe[i][a] = 1
		}
	}
	return s
}

// goMeasure measures with the fonts the view uses.
func goMeasure(t *testing.T) Measure {
	type key struct {
		size float64
		bold bool
	}
	faces := map[key]font.Face{}
	return func(s string, size float64, bold bool) float64 {
		k := key{size, bold}
		if faces[k] == nil {
			ttf := goregular.TTF
			if bold {
				ttf = gobold.TTF
			}
			f, err := opentype.Parse(ttf)
			require.NoError(t, err)
			faces[k], err = opentype.NewFace(f, &opentype.FaceOptions{Size: size, DPI: 72})
			require.NoError(t, err)
		}
		return float64(font.MeasureString(faces[k], s)) / 64
	}
}

func eachStage(t *testing.T, test func(t *testing.T, s *Scene, m Measure)) {
	for _, size := range stages {
		for _, si := range []bool{false, true} {
			t.Run(fmt.Sprintf("%gx%g si=%v", size[0], size[1], si), func(t *testing.T) {
				m := goMeasure(t)
				test(t, Build(size[0], size[1], testSetup(), Options{Units: pageUnits{si}, SI: si, Measure: m}), m)
			})
		}
	}
}

// lettering is a text with the room it takes.
type lettering struct {
	text string
	r    Rect
}

// letterings are all texts of a scene, the changing ones at their widest.
func letterings(t *testing.T, s *Scene, m Measure) (all []lettering) {
	widest := map[ReadoutKind]string{
		ReadStation: "Backwash", ReadRemaining: "12,345 gal left", ReadClock: "clock 12:30 pm",
		ReadNext: "regenerates in 12 days", ReadBypass: "not bypassed",
	}
	for _, list := range [][]Placed{s.Labels, s.Plates} {
		for _, l := range list {
			require.GreaterOrEqual(t, l.Size, TextSmall, l.Text)
			all = append(all, lettering{l.Text, Rect{l.X, l.Y, m(l.Text, l.Size, l.Bold), l.Size * 1.15}})
		}
	}
	for _, r := range s.Readouts {
		w := r.Box.W - 4
		if text := widest[r.Kind]; text != "" {
			w = m(text, r.Size, r.Bold)
		}
		if r.Short {
			w = m("next in 12 days", r.Size, r.Bold)
		}
		all = append(all, lettering{fmt.Sprint("readout ", r.Kind), Rect{r.At.X - r.Align*w, r.At.Y - r.Size*0.58, w, r.Size * 1.15}})
	}
	return all
}

func requireApart(t *testing.T, s *Scene, all []lettering) {
	for i, a := range all {
		require.True(t, a.r.X >= 0 && a.r.Y >= 0 && a.r.X+a.r.W <= s.W && a.r.Y+a.r.H <= s.H, "%q leaves the stage: %v", a.text, a.r)
		for _, b := range all[:i] {
			require.False(t, a.r.Overlaps(b.r), "%q %v over %q %v", a.text, a.r, b.text, b.r)
		}
	}
}

func TestLetteringsNeverOverlapNorLeaveTheStage(t *testing.T) {
	eachStage(t, func(t *testing.T, s *Scene, m Measure) { requireApart(t, s, letterings(t, s, m)) })
}

// openable are the parts that change the picture when they are taken out.
var openable = []sim.Part{
	sim.PartInjector, sim.PartScreen, sim.PartDrainCtl, sim.PartRefillCtl, sim.PartBrineLine,
	sim.PartDrainLine, sim.PartSeats, sim.PartBypass, sim.PartFloat, sim.PartAirCheck, sim.PartBrineTank,
	sim.PartSupply, sim.PartMeter, sim.PartDrum, sim.PartMotor, sim.PartRiser, sim.PartBed, sim.PartLowerDist,
}

// sound is the condition of a unit with nothing wrong, as the engine gives it.
func sound() sim.Condition {
	c := sim.Condition{
		NozzleOpen: 1, ThroatOpen: 1, ScreenOpen: 1, InjectorScale: 1, BrineLineOpen: 1, RefillOpen: 1, RefillScale: 1,
		SaltLeft: 1, DrainLineOpen: 1, DrainCtlOpen: 1, DrainCtlScale: 1, MeterTurns: 1, MeterWired: 1, DaysSet: 1,
		HardnessSet: 1, CapacitySet: 1, DoseSet: 1, LowerDistOpen: 1, SupplyScale: 1, FeedHarder: 1,
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
	{sim.PartAirCheck, "too high", func(c *sim.Condition) { c.AirCheckHighM = 0.14 }},
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
	m := goMeasure(t)
	for _, size := range stages {
		for _, a := range withSound() {
			p := a.part
			s := Build(size[0], size[1], testSetup(), Options{Units: pageUnits{}, Inside: opened(p, a.make), Measure: m})
			requireApart(t, s, letterings(t, s, m))
			var card []lettering
			for _, l := range s.CardText {
				r := Rect{l.X, l.Y, m(l.Text, l.Size, l.Bold), l.Size * 1.15}
				require.True(t, s.Inset.Contains(Pt{r.X, r.Y}) && s.Inset.Contains(Pt{r.X + r.W, r.Y + r.H}), "%s at %v: %q leaves its card", p, size, l.Text)
				card = append(card, lettering{l.Text, r})
			}
			requireApart(t, s, card)
		}
	}
}

func TestBracketsFrameEveryPartOffTheLetterings(t *testing.T) {
	eachStage(t, func(t *testing.T, s *Scene, m Measure) {
		for _, h := range s.Hits {
			drawn := 0
			box, _ := s.PartBox(h.Part)
			for _, arm := range s.Brackets(box.Inset(-3), 3) {
				if arm.W == 0 {
					continue
				}
				drawn++
				for _, l := range letterings(t, s, m) {
					require.False(t, arm.Overlaps(l.r), "the bracket of %s strikes through %q", h.Part, l.text)
				}
				require.True(t, arm.X >= 0 && arm.Y >= 0 && arm.X+arm.W <= s.W && arm.Y+arm.H <= s.H, "the bracket of %s leaves the stage", h.Part)
			}
			require.GreaterOrEqual(t, drawn, 4, h.Part)
		}
	})
}

func TestEveryPartCanBeTouched(t *testing.T) {
	parts := []sim.Part{
		sim.PartSupply, sim.PartShutOff, sim.PartBypass, sim.PartRawTap, sim.PartHouseTap, sim.PartValve, sim.PartDrum,
		sim.PartMotor, sim.PartController, sim.PartSeats, sim.PartInjector, sim.PartScreen, sim.PartDrainCtl, sim.PartDrainLine,
		sim.PartAirGap, sim.PartRefillCtl, sim.PartBrineLine, sim.PartAirCheck, sim.PartFloat, sim.PartBrineTank, sim.PartSalt,
		sim.PartBed, sim.PartRiser, sim.PartUpperDist, sim.PartLowerDist, sim.PartMeter, sim.PartHouse,
	}
	eachStage(t, func(t *testing.T, s *Scene, _ Measure) {
		for _, p := range parts {
			reached := false
			for _, h := range s.Hits {
				require.GreaterOrEqual(t, math.Min(h.Box.W, h.Box.H), HitMin-1e-9, p)
				for k := 0.1; k < 1 && h.Part == p; k += 0.2 {
					for j := 0.1; j < 1; j += 0.2 {
						reached = reached || s.At(Pt{h.Box.X + k*h.Box.W, h.Box.Y + j*h.Box.H}) == p
					}
				}
			}
			require.True(t, reached, "%s cannot be touched", p)
		}
	})
}

func TestEverySeatNameIsOnThePicture(t *testing.T) {
	eachStage(t, func(t *testing.T, s *Scene, _ Measure) {
		for _, seat := range seatRow {
			found := false
			for _, l := range s.Plates {
				found = found || l.Text == seat.String()
			}
			require.True(t, found, seat.String())
		}
	})
}

// TestPassagesOfTheManifoldDoNotCross samples every stream in the valve and
// asks that it lies only on water of bodies that are joined to its own.
func TestPassagesOfTheManifoldDoNotCross(t *testing.T) {
	// Bodies of water that are one passage when all seats are open count apart
	// here: a stream may touch its own source and those behind its two seats.
	s := Build(1000, 640, testSetup(), Options{Units: pageUnits{}})
	for i := range s.Streams {
		st := &s.Streams[i]
		for k := 1; k < len(st.Pts); k++ {
			mid := lerp(st.Pts[k-1], st.Pts[k], 0.5)
			require.True(t, onWater(s, mid) || outside(s, mid), "stream %d (source %d) leaves the water at %v", i, st.Src, mid)
		}
	}
}

func outside(s *Scene, p Pt) bool {
	return p.X < 0 || p.X > s.W || s.Bed.Box.Contains(p) || s.Tank.Box.Contains(p)
}

func onWater(s *Scene, p Pt) bool {
	for _, w := range s.Waters {
		for i := 0; i+2 < len(w.Mesh.I); i += 3 {
			if inTriangle(p, w.Mesh.V[w.Mesh.I[i]], w.Mesh.V[w.Mesh.I[i+1]], w.Mesh.V[w.Mesh.I[i+2]]) {
				return true
			}
		}
	}
	return false
}

func inTriangle(p, a, b, c Pt) bool {
	side := func(u, v Pt) float64 { return (v.X-u.X)*(p.Y-u.Y) - (v.Y-u.Y)*(p.X-u.X) }
	x, y, z := side(a, b), side(b, c), side(c, a)
	return x >= 0 && y >= 0 && z >= 0 || x <= 0 && y <= 0 && z <= 0
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
	shut.Condition.NozzleOpen, open.Condition.NozzleOpen, cleaned.Condition.NozzleOpen = 0.3, 0.3, 1
	require.Equal(t, InsideKey{}, KeyOf(shut), "a shut part gives nothing away")
	require.NotEqual(t, KeyOf(open), KeyOf(shut))
	require.NotEqual(t, KeyOf(open), KeyOf(cleaned))
}

func TestConditionShowsOnlyInOpenedParts(t *testing.T) {
	fine, worn := &sim.View{Condition: sound()}, &sim.View{Condition: sound()}
	worn.Condition.NozzleOpen, worn.Condition.ScreenOpen, worn.Condition.SeatLeakCv[sim.SeatPass] = 0.1, 0.1, 1
	require.Equal(t, Build(1000, 640, testSetup(), Options{Units: pageUnits{}, Inside: fine}), Build(1000, 640, testSetup(), Options{Units: pageUnits{}, Inside: worn}))
	fine.Opened, worn.Opened = []sim.Part{sim.PartInjector}, []sim.Part{sim.PartInjector}
	require.NotEqual(t, Build(1000, 640, testSetup(), Options{Units: pageUnits{}, Inside: fine}).Card, Build(1000, 640, testSetup(), Options{Units: pageUnits{}, Inside: worn}).Card)
}
