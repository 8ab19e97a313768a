//go:build js

package panel

import (
	"math"
	"syscall/js"

	"brinebench/game"
)

// syncSound tells the page's sounds how loud they are to be; see sound.js. A unit that
// stands still, or runs too fast to be listened to, is silent.
func (p *Panels) syncSound() {
	const fastest = 10 // of the paces
	var s game.Sounds
	if pace := p.game.Speed(); pace > 0 && pace <= fastest {
		s = game.SoundsOf(p.game.View())
	}
	near := func(x float64) float64 { return math.Round(20*x) / 20 }
	s = game.Sounds{Motor: near(s.Motor), Drain: near(s.Drain), Draw: near(s.Draw)}
	if s != p.sounds {
		p.sounds = s
		if js.Global().Get("brinebenchSound").Truthy() {
			js.Global().Call("brinebenchSound", s.Motor, s.Drain, s.Draw)
		}
	}
}
