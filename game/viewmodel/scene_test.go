package viewmodel

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"

	"brinebench/game/say"
	"brinebench/sim"
)

// stages are the sizes the picture must be good at, in CSS px.
var stages = [][2]float64{{1000, 640}, {1249, 788}, {929, 608}, {380, 375}, {638, 420}, {927, 640}, {640, 484}, {695, 375}, {380, 368}, {700, 560}, {390, 430}, {390, 700}, {1600, 900}, {1280, 720}, {430, 500}, {374, 370}, {640, 360}, {820, 480}, {760, 1000}, {350, 321}, {310, 308}, {1673, 1148}}

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
			for _, lang := range say.Langs {
				t.Run(fmt.Sprintf("%gx%g si=%v %s", size[0], size[1], si, lang), func(t *testing.T) {
					speak(t, lang)
					m := goMeasure(t)
					test(t, Build(size[0], size[1], testSetup(), Options{Units: pageUnits{si}, SI: si, Measure: m}), m)
				})
			}
		}
	}
}

// speak makes a language the one spoken for the time of a test.
func speak(t *testing.T, l say.Lang) {
	t.Cleanup(func() { say.Speak(say.English) })
	say.Speak(l)
}

// lettering is a text with the room it takes.
type lettering struct {
	text string
	r    Rect
}

// letterings are all texts of a scene, the changing ones at their widest.
func letterings(t *testing.T, s *Scene, m Measure) (all []lettering) {
	widest := map[ReadoutKind]string{
		ReadStation: say.Sim("Backwash"), ReadRemaining: say.Text("canvas.left", "12,345 gal"), ReadClock: say.Text("canvas.clock", "12:30 pm"),
		ReadNext: say.Text("canvas.regenerates", 12), ReadBypass: say.Text("canvas.bypass-service"),
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
		if r.Short && r.Kind == ReadNext {
			w = m(say.Text("canvas.next", 12), r.Size, r.Bold)
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

// The brim of the funnel under the drain line is no lettering, so the test above does not see it.
func TestLegendKeepsClearOfTheFunnel(t *testing.T) {
	eachStage(t, func(t *testing.T, s *Scene, m Measure) {
		if s.Tall {
			return // there it stands below
		}
		at := slices.IndexFunc(letterings(t, s, m), func(l lettering) bool { return l.text == say.Sim("air") })
		require.GreaterOrEqual(t, at, 0)
		air := letterings(t, s, m)[at].r
		require.Less(t, air.X+air.W+4, s.Jets[0].Top.X-funnelW/2*s.Unit)
	})
}

func TestLeaderLinesCrossNoLettering(t *testing.T) {
	eachStage(t, func(t *testing.T, s *Scene, m Measure) {
		require.NotEmpty(t, s.Leads)
		for _, l := range s.Leads {
			for _, w := range letterings(t, s, m) {
				require.False(t, crosses(l[0], l[1], w.r.Inset(0.5)), "%v strikes through %q %v", l, w.text, w.r)
			}
		}
	})
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
			least := 4
			if say.Spoken() != say.English { // longer names take a corner more on the smallest stage
				least = 2
			}
			require.GreaterOrEqual(t, drawn, least, h.Part)
		}
	})
}

func TestEveryPartCanBeTouched(t *testing.T) {
	parts := []sim.Part{
		sim.PartSupply, sim.PartShutOff, sim.PartBypass, sim.PartRawTap, sim.PartHouseTap, sim.PartValve, sim.PartDrum,
		sim.PartMotor, sim.PartPlugIn, sim.PartController, sim.PartSeats, sim.PartInjector, sim.PartScreen, sim.PartDrainCtl, sim.PartDrainLine,
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

// TestTheInletsGaugeStandsOverTheOutlets on every picture: two of the same are told apart by that.
func TestTheInletsGaugeStandsOverTheOutlets(t *testing.T) {
	eachStage(t, func(t *testing.T, s *Scene, m Measure) {
		at := map[sim.Node]Gauge{}
		for _, g := range s.Gauges {
			at[g.Node] = g
		}
		in, out := at[sim.NodeValveIn], at[sim.NodeValveOut]
		require.Less(t, in.C.Y+in.R, out.C.Y-out.R)
		for _, g := range s.Gauges {
			dial := Rect{g.C.X - g.R, g.C.Y - g.R, 2 * g.R, 2 * g.R}
			for _, l := range letterings(t, s, m) {
				require.False(t, dial.Inset(0.15*g.R).Overlaps(l.r), "%q over the dial of %v", l.text, g.Node)
			}
		}
	})
}

func TestEverySeatNameIsOnThePicture(t *testing.T) {
	eachStage(t, func(t *testing.T, s *Scene, _ Measure) {
		for _, seat := range sim.SeatRow {
			found := false
			for _, l := range s.Plates {
				found = found || l.Text == say.Sim(seat.String())
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
