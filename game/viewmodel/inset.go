package viewmodel

import (
	"math"
	"slices"

	"brinebench/sim"
)

// insetDrawing draws the inside of a part into a rectangle.
type insetDrawing struct {
	title string // of the opened part
	name  string // of the part that is not opened
	draw  func(b *builder, r Rect)
}

// insetOf returns how a part is shown when it is open, or nil for parts whose
// inside the picture shows anyway.
func insetOf(p sim.Part) *insetDrawing {
	switch p {
	case sim.PartInjector:
		return &insetDrawing{"injector, taken out", "injector", (*builder).insetInjector}
	case sim.PartScreen:
		return &insetDrawing{"injector screen, taken out", "injector screen", (*builder).insetScreen}
	case sim.PartDrainCtl:
		return &insetDrawing{"drain flow control, out", "drain flow control", (*builder).insetDrainControl}
	case sim.PartRefillCtl:
		return &insetDrawing{"refill flow control, out", "refill flow control", (*builder).insetRefillControl}
	case sim.PartBrineLine:
		return &insetDrawing{"brine line, taken off", "brine line", (*builder).insetBrineLine}
	case sim.PartDrainLine:
		return &insetDrawing{"drain line, taken off", "drain line", (*builder).insetDrainLine}
	case sim.PartSeats:
		return &insetDrawing{"seats and discs", "seats and discs", (*builder).insetSeats}
	case sim.PartBypass:
		return &insetDrawing{"bypass, turned through", "bypass", (*builder).insetBypass}
	case sim.PartMeter:
		return &insetDrawing{"meter, turbine pulled", "meter", (*builder).insetMeter}
	case sim.PartSupply:
		return &insetDrawing{"regulator of the house", "regulator of the house", (*builder).insetRegulator}
	case sim.PartFloat:
		return &insetDrawing{"safety float, out", "safety float", (*builder).insetFloat}
	case sim.PartAirCheck:
		return &insetDrawing{"air check, lifted out", "air check", (*builder).insetAirCheck}
	case sim.PartBrineTank:
		return &insetDrawing{"brine tank, lid and floor", "brine tank", (*builder).insetBrineTank}
	case sim.PartDrum:
		return &insetDrawing{"drum, end on", "drum", (*builder).insetDrum}
	case sim.PartMotor:
		return &insetDrawing{"motor and gear", "motor and gear", (*builder).insetMotor}
	case sim.PartRiser:
		return &insetDrawing{"riser, the valve off", "riser and its seal", (*builder).insetRiser}
	case sim.PartUpperDist:
		return &insetDrawing{"upper distributor, out", "upper distributor", (*builder).insetUpperDistributor}
	case sim.PartLowerDist:
		return &insetDrawing{"lower distributor, out", "lower distributor", (*builder).insetDistributor}
	case sim.PartBed:
		return &insetDrawing{"resin, the valve off", "resin", (*builder).insetBed}
	}
	return nil
}

// InsideKey is what the enlarged section of opened parts depends on, what letterings
// point at, and the plug: when it changes, the scene is built anew.
type InsideKey struct {
	parts [24]sim.Part // as many as can be open at once
	state sim.Condition
	hangs bool // salt, over a hollow
	out   bool // the plug is out
	salt  int  // how high it stands, in steps of saltStepM
}

// saltStepM is by how much salt has to rise or fall for its name to follow, m.
const saltStepM = 0.05

// KeyOf returns the key of a view.
func KeyOf(v *sim.View) (k InsideKey) {
	k.out = !v.Controller.Powered
	k.hangs, k.salt = v.Tank.SaltBottomM > 0, int(v.Tank.SaltTopM/saltStepM)
	if len(v.Opened) == 0 && !v.Bared {
		return k
	}
	copy(k.parts[:], v.Opened)
	k.state = v.Condition
	return k
}

// Sectioned returns the part whose section a stage of w × h CSS px shows when p is
// chosen: p, or "" where it has none, or the stage no room for those of parts that
// are not open.
func Sectioned(p sim.Part, v *sim.View, w, h float64) sim.Part {
	if insetOf(p) == nil || isTall(w, h) && !isOpen(v, p) {
		return ""
	}
	return p
}

// HasSection tells whether a stage of w × h CSS px has a section to show, with p chosen.
func HasSection(p sim.Part, v *sim.View, w, h float64) bool {
	return Sectioned(p, v, w, h) != "" || slices.ContainsFunc(v.Opened, func(o sim.Part) bool { return insetOf(o) != nil })
}

// insetKind returns the drawing of the part chosen, or else of the part opened
// last, and whether it is open; nil for none.
func (b *builder) insetKind() (d *insetDrawing, open bool) {
	v := b.opt.Inside
	if v == nil || b.s.Layers.Closed {
		return nil, false
	}
	if p := Sectioned(b.opt.Chosen, v, b.s.W, b.s.H); p != "" {
		return insetOf(p), isOpen(v, p)
	}
	for i := len(v.Opened) - 1; i >= 0; i-- {
		if d := insetOf(v.Opened[i]); d != nil {
			return d, true
		}
	}
	return nil, false
}

// inset draws the card with the enlarged section over the finished picture.
func (b *builder) inset() {
	d, open := b.insetKind()
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
	size, title := b.opt.textSize(b.s), d.title
	head := size*1.2 + 12
	room := Rect{r.X + 12, r.Y + head, r.W - 24, r.H - head - 10}
	if !open {
		title = d.name
	}
	if !open && !b.opt.Inside.Bared {
		b.dashed(roundRect(r.Inset(3.5), 5))
		room = b.caption(room, InkSoft, "as it should be; open it to see how it is", "open it to see")
	}
	b.s.Labels = append(b.s.Labels, Placed{Text: title, X: r.X + 10, Y: r.Y + 7, Size: size, Bold: true, Role: Ink})
	d.draw(b, room)
	b.s.Card, b.s.CardText = b.s.Over, b.s.Labels
	b.s.Over, b.s.Labels = over, labels
}

// note writes a size under or beside a drawing; (x, y) is its middle.
func (b *builder) note(text string, x, y float64) { b.noteAs(Ink, text, x, y) }

func (b *builder) noteAs(role Role, text string, x, y float64) {
	size := b.opt.small(b.s)
	w := b.opt.Measure(text, size, false)
	b.s.Labels = append(b.s.Labels, Placed{Text: text, X: x - w/2, Y: y - size*0.62, Size: size, Role: role})
}

// caption writes the longest of texts that fits, the longest first, along the foot
// of r and returns what is left of r above it.
func (b *builder) caption(r Rect, role Role, texts ...string) Rect {
	size := b.opt.small(b.s)
	for _, t := range texts {
		if b.opt.Measure(t, size, false) <= r.W {
			b.noteAs(role, t, r.X+r.W/2, r.Y+r.H-0.6*size)
			break
		}
	}
	r.H -= 1.35 * size
	return r
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

// fill is a face without an outline.
func (b *builder) fill(role Role, pts []Pt) { b.over(Op{Kind: OpFill, Role: role, Pts: pts}) }

// wrong is a stroke at what is not as it should be.
func (b *builder) wrong(pts ...Pt) { b.ink(b.s.Heavy*1.2, Wrong, pts) }

// crack is a jagged line from p to q.
func (b *builder) crack(p, q Pt) {
	const n = 7
	l := dist(p, q)
	nx, ny := -(q.Y-p.Y)/l, (q.X-p.X)/l
	pts := make([]Pt, n+1)
	for i := range pts {
		off := l * 0.07 * float64(1-2*(i%2))
		if i == 0 || i == n {
			off = 0
		}
		pts[i] = lerp(p, q, float64(i)/n).Add(nx*off, ny*off)
	}
	b.wrong(pts...)
}

// lump is a rough piece of foreign matter of radius rad.
func (b *builder) lump(role Role, c Pt, rad float64, salt int) {
	const n = 9
	pts := make([]Pt, n)
	for i := range pts {
		si, co := math.Sincos(2 * math.Pi * float64(i) / n)
		k := rad * (0.72 + 0.4*Scatter(i, salt))
		pts[i] = c.Add(k*co, k*si)
	}
	b.fill(role, pts)
	b.outline(pts, b.s.Thin)
}

// arrow is a dimension arrow from p to q, its head at q.
func (b *builder) arrow(role Role, p, q Pt) {
	l := dist(p, q)
	if l < 1 {
		return
	}
	dx, dy := (q.X-p.X)/l, (q.Y-p.Y)/l
	h := math.Min(6, l*0.6)
	b.ink(b.s.Thin*1.3, role, []Pt{p, q.Add(-dx*h*0.5, -dy*h*0.5)})
	b.fill(role, []Pt{q, q.Add(-dx*h-dy*h*0.5, -dy*h+dx*h*0.5), q.Add(-dx*h+dy*h*0.5, -dy*h-dx*h*0.5)})
}

// dashed is a dashed line along a ring: the frame of what is only a drawing.
func (b *builder) dashed(ring []Pt) {
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		if dist(p, q) > 12 {
			b.dashes(InkSoft, p, q)
		}
	}
}

// dashes is a dashed line from p to q.
func (b *builder) dashes(role Role, p, q Pt) {
	const dash = 4.0
	n := int(dist(p, q) / (2 * dash))
	for i := range n {
		t := float64(i) / float64(n)
		b.ink(b.s.Thin*1.3, role, []Pt{lerp(p, q, t), lerp(p, q, t+0.5/float64(n))})
	}
}

// grit lines a bore from x0 to x1 about the axis y, half its half width at each
// end, so that the fraction open of its area stays free.
func (b *builder) grit(x0, x1, y, half0, half1, open float64) {
	if open >= 0.995 {
		return
	}
	b.lining(Grit, x0, x1, y, half0, half1, open)
}

func (b *builder) lining(role Role, x0, x1, y, half0, half1, open float64) {
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
		b.fill(role, pts)
		b.outline(pts, b.s.Thin)
	}
}
