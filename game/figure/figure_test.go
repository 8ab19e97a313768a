package figure

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/game/viewmodel"
	"brinebench/sim"
)

// faces is a brush that counts the faces painted in part, and lets the rest be.
type faces struct {
	Brush
	sheer int
}

func (b *faces) Rect(_, _, _, _ float64, c Tint) {
	if c[3] < 1 {
		b.sheer++
	}
}
func (b *faces) Crystal(viewmodel.Pt, float64, float64) {}

// The ground of a heap is painted in part, so that twice would be another colour.
func TestAHeapOfSaltIsPaintedOnce(t *testing.T) {
	tank := viewmodel.BrineTank{Box: viewmodel.Rect{X: 0, Y: 0, W: 200, H: 300}, Floor: 300, PxPerM: 300, Well: viewmodel.Rect{X: 150, W: 40}}
	for _, row := range []struct {
		situation string
		t         sim.TankView
		veiled    bool
		heaps     int
	}{
		{"no salt", sim.TankView{}, false, 0},
		{"loose salt", sim.TankView{SaltTopM: 0.4, LooseSaltTopM: 0.4}, false, 1},
		{"the two heights not eased alike", sim.TankView{SaltTopM: 0.4001, LooseSaltTopM: 0.4}, false, 1},
		{"the other way about", sim.TankView{SaltTopM: 0.4, LooseSaltTopM: 0.4001}, false, 1},
		{"a bridge over loose salt", sim.TankView{SaltTopM: 0.6, SaltBottomM: 0.45, LooseSaltTopM: 0.1}, false, 2},
		{"a bridge, seen from above", sim.TankView{SaltTopM: 0.6, SaltBottomM: 0.45, LooseSaltTopM: 0.1}, true, 1},
	} {
		b := &faces{}
		f := Figure{Brush: b, Scene: &viewmodel.Scene{Tank: tank, Unit: 1, Veiled: row.veiled}, View: &sim.View{Tank: row.t}, Pal: viewmodel.PaletteFor(false)}
		f.salt()
		require.Equal(t, row.heaps, b.sheer, row.situation)
	}
}
