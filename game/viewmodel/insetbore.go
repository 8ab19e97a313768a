package viewmodel

import (
	"math"
	"strings"

	"brinebench/sim"
)

// insetBore is a flow control in its holder, with the rating marked on it beside
// that of the unit's plate.
func (b *builder) insetBore(r Rect, open, scale, rating float64, gone bool) {
	plate := printedFlow(rating)
	switch {
	case gone:
		r = b.caption(r, Wrong, "the holder is empty; the plate: "+plate, "empty; plate: "+plate)
	case off(scale):
		r = b.caption(r, Wrong, "the unit's plate: "+plate, "plate: "+plate)
	default:
		r = b.caption(r, InkSoft, "as on the unit's plate")
	}
	size := b.opt.small(b.s)
	h := (r.H - 1.3*size) / 2
	y, mid := r.Y+h, r.X+r.W/2
	w := math.Min(r.W*0.46, h*1.7)
	b.block(Rect{mid - w, y - h, 2 * w, 2 * h}.corners())
	wide := h * 0.62
	bore := math.Min(h*0.27*math.Sqrt(scale), wide*0.85)
	b.hollow(Rect{mid - w, y - wide, 2 * w, 2 * wide}.corners())
	for _, side := range []float64{-1, 1} { // the ring that holds it
		b.block([]Pt{{mid + w*0.68, y + side*wide}, {mid + w*0.86, y + side*wide}, {mid + w*0.86, y + side*wide*0.78}, {mid + w*0.68, y + side*wide*0.78}})
	}
	b.arrow(InkSoft, Pt{mid - w*0.97, y}, Pt{mid - w*0.55, y})
	for _, side := range []float64{-1, 1} { // the washer, a ring in section
		ring := []Pt{{mid - w*0.45, y + side*wide}, {mid - w*0.25, y + side*bore}, {mid + w*0.5, y + side*bore}, {mid + w*0.65, y + side*wide}}
		if gone {
			for i := range 3 {
				b.dashes(Wrong, ring[i], ring[i+1])
			}
			continue
		}
		b.fill(InkSoft, ring)
		b.outline(ring, b.s.Thin*1.3)
	}
	if gone {
		return
	}
	b.grit(mid-w*0.25, mid+w*0.5, y, bore, bore, open)
	b.note("marked "+printedFlow(rating*scale), mid, y+h+0.8*size)
}

func (b *builder) insetDrainControl(r Rect) {
	c := b.opt.Inside.Condition
	b.insetBore(r, c.DrainCtlOpen, c.DrainCtlScale, b.set.DrainControlGPM, c.DrainCtlGone > 0.5)
}

func (b *builder) insetRefillControl(r Rect) {
	c := b.opt.Inside.Condition
	b.insetBore(r, c.RefillOpen, c.RefillScale, b.set.RefillControlGPM, false)
}

// iceIn fills a tube from x0 to x1 about y with ice, as far as share of its area.
func (b *builder) iceIn(x0, x1, y, half, share float64) {
	if share < 0.02 {
		return
	}
	b.lining(SaltFace, x0, x1, y, half, half, 1-share)
	for i := range 9 { // cracks in it
		x := x0 + (x1-x0)*(0.08+0.84*float64(i)/8)
		k := half * (0.9 - 0.5*Scatter(i, 61))
		s := float64(1 - 2*(i%2))
		b.ink(b.s.Thin, InkSoft, []Pt{{x, y + s*k}, {x + half*0.3, y + s*k*0.45}})
	}
	b.noteAs(Wrong, "ice", x0+(x1-x0)/2, y+1.5*half+0.8*b.opt.small(b.s))
}

func (b *builder) insetBrineLine(r Rect) {
	c := b.opt.Inside.Condition
	y, h := r.Y+r.H*0.5, math.Min(r.H*0.3, r.W*0.14)
	wall, bore := h*0.3, h*0.7
	k0, kink, k1 := r.X+r.W*0.16, r.X+r.W*0.32, r.X+r.W*0.48
	left := bore // free half width at the kink
	if c.BrineLineOpen < 0.995 {
		left = bore * math.Min(0.8, 0.05+0.8*math.Sqrt(c.BrineLineOpen))
	}
	for _, side := range []float64{-1, 1} {
		at := func(x, in float64) Pt { return Pt{x, y + side*in} }
		tube := []Pt{
			at(r.X, bore), at(k0, bore), at(kink-4, left), at(kink+4, left), at(k1, bore), at(r.X+r.W*0.78, bore),
			at(r.X+r.W*0.78, bore+wall), at(k1, bore+wall), at(kink+4, left+wall), at(kink-4, left+wall), at(k0, bore+wall), at(r.X, bore+wall),
		}
		b.block(tube)
		if left < bore {
			b.wrong(at(k0+4, bore*0.92+wall), at(kink-4, left+wall), at(kink+4, left+wall), at(k1-4, bore*0.92+wall))
		}
	}
	b.iceIn(r.X+r.W*0.5, r.X+r.W*0.76, y, bore, c.BrineIce)
	b.fitting(Rect{r.X + r.W*0.8, y - h*1.15, r.W * 0.18, h * 2.3}, c.BrineAirM > 0, clamp(c.BrineAirM/0.72e-3, 0, 1))
}

// fitting is the union nut at the end of the brine line; a loose one stands off,
// its seal nicked, with salt crust about it and air going in.
func (b *builder) fitting(r Rect, loose bool, much float64) {
	gap := 0.0
	if loose {
		gap = r.W * (0.12 + 0.2*much)
	}
	nut := Rect{r.X + gap, r.Y, r.W - gap, r.H}
	b.top(Shell, nut.corners(), b.s.Heavy)
	for k := 1.0; k < 4; k++ {
		b.ink(b.s.Thin, Ink, []Pt{{nut.X, nut.Y + nut.H*k/4}, {nut.X + nut.W, nut.Y + nut.H*k/4}})
	}
	if !loose {
		return
	}
	b.wrong(Pt{nut.X, nut.Y}, Pt{nut.X, nut.Y + nut.H})
	for i := range 5 {
		b.lump(SaltFace, Pt{nut.X - gap*0.5, nut.Y + nut.H*(0.1+0.2*float64(i))}, math.Min(5, r.W*0.14), 70+i)
	}
	for i := range 4 {
		p := Pt{r.X - r.W*(0.25+0.4*float64(i)), r.Y + r.H*(0.5+0.16*(Scatter(i, 77)-0.5))}
		b.top(SaltFace, circle(p, math.Min(3.2, r.W*0.09)), b.s.Thin)
	}
}

// insetDrainLine shows the hose in section and below it the way it is led.
func (b *builder) insetDrainLine(r Rect) {
	c := b.opt.Inside.Condition
	up := c.DrainUpM
	if up > 0.01 {
		text := b.opt.Units.Quantity(up, sim.UnitLength)
		r = b.caption(r, Wrong, "led too high by "+strings.TrimSpace(text), "too high by "+text)
	}
	top := Rect{r.X, r.Y, r.W, r.H * 0.36}
	y, h := top.Y+top.H*0.5, top.H*0.5
	b.block(Rect{top.X, y - h, top.W, h * 0.34}.corners())
	b.block(Rect{top.X, y + h*0.66, top.W, h * 0.34}.corners())
	b.grit(top.X+top.W*0.12, top.X+top.W*0.5, y, h*0.66, h*0.66, c.DrainLineOpen)
	b.iceIn(top.X+top.W*0.58, top.X+top.W*0.92, y, h*0.66, c.DrainIce)

	way := Rect{r.X, r.Y + r.H*0.46, r.W, r.H * 0.54}
	low := way.Y + way.H*0.62
	high := low - clamp(up/9, 0, 1)*way.H*0.56
	v := Rect{way.X + way.W*0.06, low - way.H*0.04, way.W * 0.16, way.H * 0.3}
	b.top(Shell, v.corners(), b.s.Thin*1.3) // the valve
	x0, x1 := v.X+v.W, way.X+way.W*0.86
	line := []Pt{{x0, low + way.H*0.06}, {x0 + way.W*0.08, low + way.H*0.06}, {x0 + way.W*0.08, high}, {x1, high}, {x1, low + way.H*0.2}}
	b.ink(5, Ink, line)
	b.ink(2.6, Paper, line)
	b.ink(b.s.Heavy, Ink, []Pt{{x1 - 7, way.Y + way.H - 10}, {x1 - 4, way.Y + way.H - 4}, {x1 - 4, way.Y + way.H}})
	b.ink(b.s.Heavy, Ink, []Pt{{x1 + 7, way.Y + way.H - 10}, {x1 + 4, way.Y + way.H - 4}, {x1 + 4, way.Y + way.H}})
	b.ink(b.s.Thin, Faint, []Pt{{way.X, way.Y + way.H}, {way.X + way.W, way.Y + way.H}})
	if up > 0.01 {
		mid := (x0 + x1) / 2
		b.dashes(Ink, Pt{x0 + way.W*0.1, low}, Pt{x1 - 6, low})
		b.arrow(Wrong, Pt{mid, low}, Pt{mid, high + 3})
	}
}
