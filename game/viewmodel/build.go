package viewmodel

import (
	"math"

	"brinebench/game/say"
	"brinebench/sim"
)

// Options are what a scene depends on beside size and setup.
type Options struct {
	Veiled  bool      // hardness is not shown, nor what else only a test can tell
	Layers  Layers    // what the key has switched
	Units   Units     // how letterings write quantities
	SI      bool      // the brine tank's rule is metric
	Measure Measure   // nil: an estimate
	Inside  *sim.View // its Opened and Condition are shown; nil: nothing is open
	Chosen  sim.Part  // its section is shown; "" for none
}

// textSize is the size of a part's name: it grows a little on a large stage, so
// that a class can read it.
func (o *Options) textSize(s *Scene) float64 { return clamp(TextNormal*s.Unit*1.06, TextSmall, 16) }

// small is the size of scales and sizes.
func (o *Options) small(s *Scene) float64 { return clamp(TextSmall*s.Unit*1.04, TextSmall, 14) }

// estimate is a rough width of Go Regular.
func estimate(text string, size float64, bold bool) float64 {
	return 0.56 * size * float64(len([]rune(text)))
}

// Build lays out the picture for a stage of w × h CSS px.
func Build(w, h float64, set *sim.Setup, opt Options) *Scene {
	if opt.Measure == nil {
		opt.Measure = estimate
	}
	read := opt.Measure
	opt.Measure = func(text string, size float64, bold bool) float64 { return read(say.Sim(text), size, bold) }
	s := &Scene{W: w, H: h, Tall: isTall(w, h), Veiled: opt.Veiled, Layers: opt.Layers.seen(opt.Veiled), TopPa: topOf(set.SupplyPa, opt.Units)}
	s.below = set.CounterCurrent
	b := &builder{s: s, set: set, opt: opt}
	if s.Tall {
		b.tall()
	} else {
		b.wide()
	}
	if d, _ := b.insetKind(); d != nil {
		b.solid = append(b.solid, s.Inset)
	}
	b.place()
	b.bars()
	b.numbers()
	b.words()
	b.inset()
	s.DiscsOut, s.FloatOut, s.CheckOut = b.open(sim.PartSeats), b.open(sim.PartFloat), b.open(sim.PartAirCheck)
	s.spoken()
	return s
}

// isTall tells whether a stage gets the tall layout.
func isTall(w, h float64) bool { return w < 1.12*h }

// words notes where the letterings stand.
func (b *builder) words() {
	for _, list := range [][]Placed{b.s.Labels, b.s.Plates} {
		for _, l := range list {
			b.s.words = append(b.s.words, Rect{l.X - 1, l.Y, b.opt.Measure(l.Text, l.Size, l.Bold) + 2, l.Size * 1.2})
		}
	}
	for i := range b.s.Readouts {
		b.s.words = append(b.s.words, b.s.Readouts[i].Box)
	}
}

func (b *builder) unit(u float64) {
	b.u, b.s.Unit = u, u
	b.s.Heavy = clamp(1.9*u, 1.3, 2.6)
	b.s.Thin = clamp(1.0*u, 0.8, 1.3)
}

// labelRoom is the height two rows of seat names need between drum and body.
func (b *builder) labelRoom() float64 {
	return 2*1.22*b.opt.textSize(b.s)/b.u + 12
}

func (b *builder) wide() {
	const minW, minH = 1084, 650
	b.unit(math.Min(b.s.W/minW, b.s.H/minH))
	vw, vh := b.s.W/b.u, b.s.H/b.u
	spare := vw - minW
	x := 236 + spare*0.35
	top := 10.0
	t := top + drumH + b.labelRoom()
	floor := vh - 26

	b.houseWide(x, t, floor)
	tankW := 186 + math.Min(spare*0.2, 40)
	b.resinTank(x+riserX, t+bodyH, tankW, floor)
	b.drainLine(x+drainX, t+bodyH, x+drainX, floor-118, floor)
	bw := 172 + spare*0.3
	bx := vw - bw - 14
	by := t + 168.0
	vx, vy := x+bodyW, t+roomY+14
	wx := bx + bw - 35
	b.brineTank(bx, by, bw, floor, vx, vy, []float64{vx, vy, wx, vy})
	b.refillControl(vx+20, vy)
	b.keep(wx-10, vy, 20, by-vy)
	b.label("refill control\n"+b.ratedFlow(b.set.RefillControlGPM), "refill control", 0, vx+17, vy+32).or(b, 0, vx+17, vy+24)
	over := 9 + 0.62*b.opt.textSize(b.s)/b.u // the line's middle of a lettering over a thin pipe
	b.label("brine line", "", 0, vx+50, vy-over).or(b, 1, wx-12, vy+40)
	b.valve(x, t)
	b.drum(x, top)
	b.drainControlLabel(x, t)
	b.controller(vx+12, 14, vw-vx-24, t+10)
	b.ground(floor)

	mx := x + riserX + tankW/2 + 128
	b.s.Inset = b.rect(mx-114, t+bodyH+16, bx-mx+98, floor-t-bodyH-26)
	if d, _ := b.insetKind(); d == nil {
		b.chart(mx-52, t+bodyH+52, bx-mx+52-66)
	}
	b.legendWide(floor, x+drainX)
}

func (b *builder) tall() {
	const minW = 780
	b.unit(b.s.W / minW)
	vh := b.s.H / b.u
	left, right, headH := b.headRoom()
	head := headH / b.u
	strip := 20 / b.u
	x := 98.0
	t := head + drumH + b.labelRoom()
	floor := vh - strip - 8
	b.headline(left, right, headH)
	b.houseTall(x, t, floor)
	b.resinTank(x+riserX, t+bodyH, 176, floor)
	dx := x + 92
	b.drainLine(x+drainX, t+bodyH, dx, math.Max(floor-150, t+bodyH+70), floor)
	bx, bw := 564.0, 200.0
	by := t + bodyH + 34
	vx, vy := x+bodyW, t+roomY+14
	wx := bx + bw - 35
	b.brineTank(bx, by, bw, floor, vx, vy, []float64{vx, vy, 764, vy, 764, by - 19, wx, by - 19})
	b.refillControl(vx+10, vy)
	b.valve(x, t)
	b.drum(x, head)
	b.s.Inset = b.rect(330, t+bodyH+16, vw(b)-336, floor-t-bodyH-20)
	b.legendTall(vh - strip/2)
}

func vw(b *builder) float64 { return b.s.W / b.u }

// ground draws the floor the equipment stands on.
func (b *builder) ground(floor float64) {
	b.under(Op{Kind: OpStroke, Role: Faint, Width: b.s.Thin, Pts: b.line(0, floor, vw(b), floor)})
}

func (b *builder) drainControlLabel(x, t float64) {
	text := "drain control\n" + b.ratedFlow(b.set.DrainControlGPM)
	b.label(text, "", 0, x+36, t+bodyH+26).lead(b, x+drainX+8, t+roomY+74)
}
