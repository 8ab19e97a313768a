package still

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/game"
	"brinebench/game/say"
	"brinebench/game/viewmodel"
	"brinebench/sim"
)

// openUnit opens a unit as it was when new.
func openUnit(t *testing.T) (*sim.Setup, *sim.View) {
	t.Helper()
	const name = "../../scenarios/hard-water-at-the-mill-house.json"
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	s, err := sim.Open(name, data, 1)
	require.NoError(t, err)
	v := &sim.View{}
	s.View(v)
	return s.Setup(), v
}

// near tells whether two colours are as good as one to the eye.
func near(a, b color.Color) bool {
	return apart(color.RGBAModel.Convert(a).(color.RGBA), color.RGBAModel.Convert(b).(color.RGBA)) < unlike
}

// A new unit in service: the water is as hard as the feed up to the seats and soft after
// the bed; discs, drum and float stand where the scene has them.
func TestUnitStandsWhereTheCanvasDrawsIt(t *testing.T) {
	set, v := openUnit(t)
	for _, stage := range []struct{ w, h, scale float64 }{{927, 608, 1}, {380, 368, 2}} {
		for _, dark := range []bool{false, true} {
			t.Run(fmt.Sprintf("%vx%v dark=%v", stage.w, stage.h, dark), func(t *testing.T) {
				m := Unit(stage.w, stage.h, stage.scale, set, v, dark)
				require.Equal(t, image.Rect(0, 0, int(stage.w*stage.scale), int(stage.h*stage.scale)), m.Rect)
				s := viewmodel.Build(stage.w, stage.h, set, viewmodel.Options{Units: game.Look{}})
				pal := viewmodel.PaletteFor(dark)
				at := func(p viewmodel.Pt) color.Color { return m.At(int(p.X*stage.scale), int(p.Y*stage.scale)) }
				hard, soft := viewmodel.Cividis(1), viewmodel.Cividis(0)
				for src, want := range map[viewmodel.Src]color.RGBA{
					viewmodel.Src(sim.PathSupply): hard, viewmodel.SrcFreeboard: hard, viewmodel.SrcRiserHead: soft, viewmodel.Src(sim.PathDrain): soft,
				} {
					require.Positive(t, seen(s, src, func(p viewmodel.Pt) bool { return near(at(p), want) }), "water of source %d", src)
				}
				tank := &s.Tank
				require.True(t, near(pal.Liquid, at(viewmodel.Pt{X: tank.Well.X + 3, Y: tank.Floor - 3})), "brine in the well")
				require.True(t, near(pal.Role[viewmodel.Paper], at(viewmodel.Pt{X: tank.Box.X + tank.Box.W/2, Y: tank.Box.Y + 20*s.Unit})), "no brine at the top")
				require.True(t, near(pal.Role[viewmodel.Shell], at(viewmodel.Pt{X: tank.FloatX + 3*s.Unit, Y: tank.Floor - v.Tank.FloatM*tank.PxPerM - 4*s.Unit})), "the float, above its mark")
				for _, q := range s.Seats {
					facing := viewmodel.Pt{X: q.X, Y: q.PlateY - v.SeatLift[q.Seat]*q.Lift - q.DiscH*0.2}
					require.True(t, near(pal.Role[viewmodel.Ink], at(facing)), "the disc of seat %v", q.Seat)
				}
				require.True(t, near(pal.Role[viewmodel.Ground], at(viewmodel.Pt{X: 2, Y: stage.h - 2})), "the ground")
			})
		}
	}
}

// seen counts the places along the streams of a source that look as asked.
func seen(s *viewmodel.Scene, src viewmodel.Src, looks func(viewmodel.Pt) bool) (n int) {
	for i := range s.Streams {
		for _, p := range s.Streams[i].Pts {
			if s.Streams[i].Src == src && p.X >= 1 && looks(p) {
				n++
			}
		}
	}
	return n
}

func TestUnitHasNoWords(t *testing.T) {
	set, v := openUnit(t)
	english := Unit(380, 368, 1, set, v, false)
	t.Cleanup(func() { say.Speak(say.English) })
	for _, l := range say.Langs {
		say.Speak(l)
		require.Equal(t, english.Pix, Unit(380, 368, 1, set, v, false).Pix, l)
	}
}

// Few colours are to look like all: the mean error stays below what the eye sees of a
// flat face, some 2 of 255 a channel (common practice, no source).
func TestFileLooksLikeThePicture(t *testing.T) {
	set, v := openUnit(t)
	for _, dark := range []bool{false, true} {
		m := Unit(927, 608, 1, set, v, dark)
		file := PNG(m)
		require.Equal(t, file, PNG(m), "the same each time")
		require.Less(t, len(file), 40_000)
		read, err := png.Decode(bytes.NewReader(file))
		require.NoError(t, err)
		require.Equal(t, m.Rect, read.Bounds())
		off := 0
		for y := range m.Rect.Dy() {
			for x := range m.Rect.Dx() {
				off += apart(m.RGBAAt(x, y), color.RGBAModel.Convert(read.At(x, y)).(color.RGBA))
			}
		}
		require.Less(t, float64(off)/float64(3*m.Rect.Dx()*m.Rect.Dy()), 2.0)
	}
}
