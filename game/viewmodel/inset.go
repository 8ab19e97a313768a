package viewmodel

import (
	"fmt"
	"math"

	"brinebench/sim"
)

// insetDrawing draws the inside of an opened part into a rectangle.
type insetDrawing struct {
	title string
	draw  func(b *builder, r Rect)
}

// insetOf returns how a part is shown when it is open, or nil for parts whose
// inside the picture shows anyway.
func insetOf(p sim.Part) *insetDrawing {
	switch p {
	case sim.PartInjector:
		return &insetDrawing{"injector, taken out", (*builder).insetInjector}
	case sim.PartScreen:
		return &insetDrawing{"injector screen, taken out", (*builder).insetScreen}
	case sim.PartDrainCtl:
		return &insetDrawing{"drain flow control, taken out", (*builder).insetDrainControl}
	case sim.PartRefillCtl:
		return &insetDrawing{"refill flow control, taken out", (*builder).insetRefillControl}
	case sim.PartBrineLine:
		return &insetDrawing{"brine line, taken off", (*builder).insetBrineLine}
	case sim.PartDrainLine:
		return &insetDrawing{"drain line, taken off", (*builder).insetDrainLine}
	case sim.PartSeats, sim.PartValve:
		return &insetDrawing{"discs, seen from below", (*builder).insetDiscs}
	case sim.PartBypass:
		return &insetDrawing{"bypass, seal between the plugs", (*builder).insetBypass}
	case sim.PartFloat:
		return &insetDrawing{"safety float, against its mark", (*builder).insetFloat}
	}
	return nil
}

// InsideKey is what the enlarged section of opened parts depends on: when it
// changes, the scene is built anew.
type InsideKey struct {
	parts [4]sim.Part
	state sim.Condition
}

// KeyOf returns the key of a view; it is zero while nothing is open.
func KeyOf(v *sim.View) (k InsideKey) {
	if len(v.Opened) == 0 {
		return k
	}
	copy(k.parts[:], v.Opened[max(0, len(v.Opened)-len(k.parts)):])
	k.state = v.Condition
	return k
}

// insetKind returns the drawing of the part opened last, or nil.
func (b *builder) insetKind() *insetDrawing {
	if b.opt.Inside == nil {
		return nil
	}
	open := b.opt.Inside.Opened
	for i := len(open) - 1; i >= 0; i-- {
		if d := insetOf(open[i]); d != nil {
			return d
		}
	}
	return nil
}

// inset draws the card with the enlarged section over the finished picture.
func (b *builder) inset() {
	d := b.insetKind()
	if d == nil {
		return
	}
	r := b.s.Inset
	if h := r.W * 0.66; r.H > h {
		r.Y, r.H = r.Y+(r.H-h)*0.3, h
	}
	b.s.Inset = r
	over, labels := b.s.Over, b.s.Labels
	b.s.Over, b.s.Labels = nil, nil
	b.top(Paper, roundRect(r, 7), b.s.Heavy)
	size := b.opt.textSize(b.s)
	b.s.Labels = append(b.s.Labels, Placed{Text: d.title, X: r.X + 10, Y: r.Y + 7, Size: size, Bold: true, Role: Ink})
	head := size*1.2 + 12
	d.draw(b, Rect{r.X + 12, r.Y + head, r.W - 24, r.H - head - 10})
	b.s.Card, b.s.CardText = b.s.Over, b.s.Labels
	b.s.Over, b.s.Labels = over, labels
}

// note writes a size under or beside a drawing; (x, y) is its middle.
func (b *builder) note(text string, x, y float64) {
	size := b.opt.small(b.s)
	w := b.opt.Measure(text, size, false)
	b.s.Labels = append(b.s.Labels, Placed{Text: text, X: x - w/2, Y: y - size*0.62, Size: size, Role: Ink})
}

// block is a body in section on the card.
func (b *builder) block(pts []Pt) {
	b.over(Op{Kind: OpFill, Role: Cut, Pts: pts})
	for _, s := range hatch([][]Pt{pts}, 7, true) {
		b.ink(b.s.Thin, Hatch, s[:])
	}
	b.outline(pts, b.s.Heavy)
}

// hollow is an empty bore through a block.
func (b *builder) hollow(pts []Pt) {
	b.over(Op{Kind: OpFill, Role: Paper, Pts: pts})
	b.outline(pts, b.s.Thin*1.3)
}

// grit lines a bore from x0 to x1 about the axis y, half its half width at each
// end, so that the fraction open of its area stays free.
func (b *builder) grit(x0, x1, y, half0, half1, open float64) {
	if open >= 0.995 {
		return
	}
	const n = 14
	for _, side := range []float64{-1, 1} {
		var wall, crust []Pt
		for i := 0; i <= n; i++ {
			t := float64(i) / n
			half := half0 + t*(half1-half0)
			free := half * math.Sqrt(clamp(open, 0, 1))
			rough := 0.75 + 0.5*Scatter(i, 11+int(side))
			if i == 0 || i == n {
				rough = 0.3
			}
			x := x0 + t*(x1-x0)
			wall = append(wall, Pt{x, y + side*half})
			crust = append([]Pt{{x, y + side*math.Max(0, half-(half-free)*rough)}}, crust...)
		}
		pts := append(wall, crust...)
		b.over(Op{Kind: OpFill, Role: Grit, Pts: pts})
		b.outline(pts, b.s.Thin)
	}
}

func (b *builder) insetInjector(r Rect) {
	c := b.opt.Inside.Condition
	y, x := r.Y+r.H*0.46, func(t float64) float64 { return r.X + t*r.W }
	h := r.H * 0.34
	b.block(Rect{r.X, y - h, r.W, 2 * h}.corners())
	in, tip, throat := h*0.55, h*0.15, h*0.28 // half widths
	b.hollow([]Pt{                            // suction chamber, throat, diffuser
		{x(0.30), y - h*0.72},
		{x(0.47), y - h*0.72},
		{x(0.56), y - throat},
		{x(0.70), y - throat},
		{x(1), y - h*0.6},
		{x(1), y + h*0.6},
		{x(0.70), y + throat},
		{x(0.56), y + throat},
		{x(0.47), y + h*0.72},
		{x(0.30), y + h*0.72},
	})
	b.hollow(Rect{x(0.36), y - h, r.W * 0.08, h * 0.29}.corners()) // suction port
	b.block([]Pt{{x(0), y - h*0.8}, {x(0.34), y - h*0.8}, {x(0.50), y - tip*1.9}, {x(0.50), y + tip*1.9}, {x(0.34), y + h*0.8}, {x(0), y + h*0.8}})
	b.hollow([]Pt{{x(0), y - in}, {x(0.22), y - in}, {x(0.38), y - tip}, {x(0.50), y - tip}, {x(0.50), y + tip}, {x(0.38), y + tip}, {x(0.22), y + in}, {x(0), y + in}})
	b.grit(x(0.38), x(0.495), y, tip, tip, c.NozzleOpen)
	if c.NozzleOpen < 0.995 {
		b.grit(x(0.30), x(0.38), y, tip+(in-tip)*0.5, tip, c.NozzleOpen)
	}
	b.grit(x(0.56), x(0.70), y, throat, throat, c.ThroatOpen)
	size := b.opt.small(b.s)
	low := y + h + 0.6*size
	b.span(x(0), x(0.50), low)
	b.span(x(0.56), x(0.70), low)
	b.note(fmt.Sprintf("nozzle %.2f mm", b.set.NozzleMM), x(0.25), low+0.9*size)
	b.note(fmt.Sprintf("throat %.2f mm", b.set.ThroatMM), x(0.75), low+0.9*size)
}

// span marks a stretch below a drawing, x0 to x1 at height y.
func (b *builder) span(x0, x1, y float64) {
	b.ink(b.s.Thin, Ink, []Pt{{x0, y - 4}, {x0, y}, {x1, y}, {x1, y - 4}})
}

func (b *builder) insetScreen(r Rect) {
	c, rad := r.Centre(), math.Min(r.W, r.H)*0.46
	b.top(Shell, circle(c, rad), b.s.Heavy)
	b.top(Paper, circle(c, rad*0.88), b.s.Thin)
	const n = 13
	step := 2 * rad * 0.88 / n
	k := 0
	for i := range n {
		for j := range n {
			p := c.Add((float64(i)-n/2)*step, (float64(j)-n/2)*step)
			if dist(p, c) > rad*0.82 {
				continue
			}
			k++
			if Scatter(k, 23) > b.opt.Inside.Condition.ScreenOpen {
				b.over(Op{Kind: OpFill, Role: Grit, Pts: circle(p, step*(0.36+0.2*Scatter(k, 29)))})
			}
		}
	}
	for i := range n + 1 {
		d := (float64(i) - n/2.0) * step
		if l := rad*rad*0.774 - d*d; l > 0 {
			l = math.Sqrt(l)
			b.ink(b.s.Thin, Ink, []Pt{c.Add(d, -l), c.Add(d, l)})
			b.ink(b.s.Thin, Ink, []Pt{c.Add(-l, d), c.Add(l, d)})
		}
	}
}

// insetBore is a short bore in a body, with what is printed on it.
func (b *builder) insetBore(r Rect, open float64, printed string) {
	y, h := r.Y+r.H*0.44, r.H*0.38
	mid := r.X + r.W/2
	w := math.Min(r.W*0.42, h*1.5)
	b.block(Rect{mid - w, y - h, 2 * w, 2 * h}.corners())
	wide, bore := h*0.62, h*0.3
	b.hollow([]Pt{
		{mid - w, y - wide},
		{mid - w*0.45, y - wide},
		{mid - w*0.25, y - bore},
		{mid + w*0.5, y - bore},
		{mid + w*0.65, y - wide},
		{mid + w, y - wide},
		{mid + w, y + wide},
		{mid + w*0.65, y + wide},
		{mid + w*0.5, y + bore},
		{mid - w*0.25, y + bore},
		{mid - w*0.45, y + wide},
		{mid - w, y + wide},
	})
	b.grit(mid-w*0.25, mid+w*0.5, y, bore, bore, open)
	b.note(printed, mid, y+h+b.opt.small(b.s))
}

// insetTube is a length of tube in section.
func (b *builder) insetTube(r Rect, open float64) {
	y, h := r.Y+r.H*0.46, r.H*0.26
	b.block(Rect{r.X, y - h, r.W, h * 0.34}.corners())
	b.block(Rect{r.X, y + h*0.66, r.W, h * 0.34}.corners())
	b.grit(r.X+r.W*0.3, r.X+r.W*0.72, y, h*0.66, h*0.66, open)
}

func (b *builder) insetDrainControl(r Rect) {
	b.insetBore(r, b.opt.Inside.Condition.DrainCtlOpen, printedFlow(b.set.DrainControlGPM))
}

func (b *builder) insetRefillControl(r Rect) {
	b.insetBore(r, b.opt.Inside.Condition.RefillOpen, printedFlow(b.set.RefillControlGPM))
}

func (b *builder) insetBrineLine(r Rect) { b.insetTube(r, b.opt.Inside.Condition.BrineLineOpen) }
func (b *builder) insetDrainLine(r Rect) { b.insetTube(r, b.opt.Inside.Condition.DrainLineOpen) }
