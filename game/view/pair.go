package view

import (
	"github.com/hajimehoshi/ebiten/v2"

	"brinebench/game/viewmodel"
)

// Pair is a canvas of one unit or of two side by side; where there is no room for
// that, one above the other. Above each there is room for a line of the page. What is
// enlarged is enlarged on both. It implements ebiten.Game.
type Pair struct {
	frame   func(dtS float64)
	shown   func() int // how many units, 1 or 2
	onDrawn func()
	motion  motion // for its clock alone

	w, h, scale float64 // CSS px, device px per CSS px
	stages      [2]*Stage
	images      [2]*ebiten.Image
	pointed     bool
	at          int // the unit that the pointer is over, or was last
}

// HeadPx is the room above each unit, CSS px.
const HeadPx = 28

// seamPx is the room between two units, CSS px.
const seamPx = 6

// NewPair returns the canvas of two sources, whose own Frame is not called: frame is,
// once per frame. onFirstDraw is called at the end of the first Draw.
func NewPair(a, b Source, frame func(dtS float64), shown func() int, onFirstDraw func()) *Pair {
	return &Pair{frame: frame, shown: shown, onDrawn: onFirstDraw, stages: [2]*Stage{New(silent{a}, nil), New(silent{b}, nil)}}
}

// silent is a source whose frames somebody else counts.
type silent struct{ Source }

// Frame does nothing.
func (silent) Frame(float64) {}

// Layout implements ebiten.Game: the canvas has the device's resolution.
func (p *Pair) Layout(outsideW, outsideH int) (int, int) {
	w, h := p.LayoutF(float64(outsideW), float64(outsideH))
	return int(w), int(h)
}

// LayoutF is Layout without rounding; Ebitengine prefers it.
func (p *Pair) LayoutF(outsideW, outsideH float64) (float64, float64) {
	p.scale = ebiten.Monitor().DeviceScaleFactor()
	p.w, p.h = outsideW, outsideH
	return max(1, float64(int(outsideW*p.scale))), max(1, float64(int(outsideH*p.scale)))
}

// leastPx is how wide a unit must be to be drawn beside another, CSS px: the page's
// style knows it too.
const leastPx = 275

// Beside tells whether two units are side by side, and not one above the other.
func (p *Pair) Beside() bool { return p.w >= p.h && p.w >= 2*leastPx }

// cell is where unit i of n is drawn, CSS px.
func (p *Pair) cell(i, n int) viewmodel.Rect {
	r := viewmodel.Rect{W: p.w, H: p.h}
	switch {
	case n == 1:
	case p.Beside():
		r.W = (p.w - seamPx) / 2
		r.X = float64(i) * (r.W + seamPx)
	default:
		r.H = (p.h - seamPx) / 2
		r.Y = float64(i) * (r.H + seamPx)
	}
	r.Y += HeadPx
	r.H = max(1, r.H-HeadPx)
	return r
}

// Update implements ebiten.Game.
func (p *Pair) Update() error {
	p.pointed = p.pointed || moved()
	if !p.pointed {
		return nil
	}
	at, n := pointer(p.scale), p.shown()
	held := p.stages[p.at].sight.held
	for i := range n { // a drag that leaves its unit goes on
		if c := p.cell(i, n); !held && c.Contains(at) {
			p.at = i
		}
	}
	p.at = min(p.at, n-1)
	for i, g := range p.stages[:n] {
		if g.scene == nil {
			continue
		}
		c := p.cell(i, n)
		if i != p.at || !held && !c.Contains(at) {
			g.hover = ""
			continue
		}
		g.point(pt{X: at.X - c.X, Y: at.Y - c.Y})
	}
	p.align()
	return nil
}

// align gives both units the lens of the one that was looked at last.
func (p *Pair) align() {
	p.stages[1-p.at].see(p.stages[p.at].sight.lens)
}

// Draw implements ebiten.Game.
func (p *Pair) Draw(screen *ebiten.Image) {
	p.frame(p.motion.tick())
	n := p.shown()
	for i, g := range p.stages[:n] {
		c := p.cell(i, n)
		g.resize(c.W, c.H, p.scale)
		img := p.image(i, max(1, int(c.W*p.scale)), max(1, int(c.H*p.scale)))
		g.drawOn(img)
		if i == 0 {
			screen.Fill(g.role(viewmodel.Ground))
		}
		var opt ebiten.DrawImageOptions
		opt.GeoM.Translate(float64(int(c.X*p.scale)), float64(int(c.Y*p.scale)))
		screen.DrawImage(img, &opt)
	}
	if p.onDrawn != nil {
		p.onDrawn()
		p.onDrawn = nil
	}
}

func (p *Pair) image(i, w, h int) *ebiten.Image {
	img := p.images[i]
	if img != nil && img.Bounds().Dx() == w && img.Bounds().Dy() == h {
		return img
	}
	if img != nil {
		img.Deallocate()
	}
	p.images[i] = ebiten.NewImage(w, h)
	return p.images[i]
}

// Zoom enlarges the units about a point of the canvas, CSS px; about the selected part
// when it is no number.
func (p *Pair) Zoom(factor, x, y float64) {
	n := p.shown()
	for i := range n {
		if c := p.cell(i, n); c.Contains(pt{X: x, Y: y}) {
			p.at, x, y = i, x-c.X, y-c.Y
			break
		}
	}
	p.stages[p.at].Zoom(factor, x, y)
	p.align()
}

// Pan moves the enlarged units by CSS px.
func (p *Pair) Pan(dx, dy float64) {
	p.stages[p.at].Pan(dx, dy)
	p.align()
}

// Whole shows the whole units again.
func (p *Pair) Whole() {
	p.stages[p.at].Whole()
	p.align()
}

// Enlarged tells whether a lens is on them.
func (p *Pair) Enlarged() bool { return p.stages[p.at].Enlarged() }
