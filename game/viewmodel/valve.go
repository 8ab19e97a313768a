package viewmodel

import (
	"fmt"
	"math"

	"brinebench/sim"
)

// The manifold in drawing units, from its top left corner. The seats stand in
// one row; the order and the levels below are chosen so that no passage crosses
// another: supply over house over drain above the row, riser over bed top
// below it.
const (
	bodyW = 642.0
	bodyH = 196.0

	supplyY = 16.0  // supply gallery, left of the pass seat
	houseY  = 42.0  // house gallery
	roomY   = 57.0  // ceiling of the chambers above the seats
	plateY  = 87.0  // top of the seat plate
	plateH  = 9.0   // its thickness
	ringH   = 2.5   // height of the edge round a port
	belowY  = 118.0 // floor of the chambers below the seats
	riserY  = 141.0 // riser gallery, and the axis of the injector
	bedY    = 174.0 // bed top gallery

	roomW     = 42.0 // width of a chamber
	portW     = 20.0 // width of a port
	passW     = 18.0 // width of a passage
	drainX    = 18.0 // drain passage down the left side
	drainCtlY = roomY + 70
	riserX    = 214.0
	riserW    = 20.0 // bore of the riser tube
	neckW     = 66.0 // bore of the tank neck
	seatTop   = 13.0 // lift of a disc
)

// seatX places the seats along the row.
var seatX = [sim.NumSeats]float64{
	sim.SeatBackwash: 56, sim.SeatRinse: 116, sim.SeatOutlet: 176, sim.SeatPass: 252,
	sim.SeatUpflow: 314, sim.SeatInlet: 376, sim.SeatMotive: 438, sim.SeatBrine: 524,
}

// The injector along its axis, drawing units from the body's left.
const (
	screenX  = 462.0
	nozzleX  = 478.0 // mouth of the nozzle
	tipX     = 512.0
	suctionL = 500.0
	suctionR = 538.0
	throatX  = 548.0
	throatE  = 566.0
	diffE    = 606.0
	returnX  = 622.0

	// A counter-current injector's return rises here, to cross the inlet's passage.
	returnUpX = 407.0
)

// valve draws the manifold with its top left corner at (x, y).
func (b *builder) valve(x, y float64) {
	ox, oy := b.ox, b.oy
	b.ox, b.oy = b.p(x, y).X, b.p(x, y).Y
	b.body()
	b.upperGalleries()
	b.lowerGalleries()
	b.injector()
	for _, s := range sim.SeatRow {
		b.seat8(s)
	}
	b.flush()
	if b.valveOff() {
		b.socket()
	} else {
		b.riserTop()
	}
	if b.set.CounterCurrent {
		b.crossing()
	}
	if b.open(sim.PartInjector) {
		b.injectorPocket()
	} else {
		b.nozzle()
	}
	b.valveFlows()
	b.valveTrim()
	b.fittings()
	b.valveNumbers()
	b.ox, b.oy = ox, oy
}

// body draws the three parts that the passages are cut into: neighbours are hatched
// in opposite directions, as drawings of sections have it (ISO 128-50, from memory).
func (b *builder) body() {
	const low, ear, wide = plateY + plateH, 7.0, 10.0
	for _, x := range []float64{-wide, bodyW} { // flanges
		b.face(Cut, b.line(x, plateY-ear, x+wide, plateY-ear, x+wide, low+ear, x, low+ear))
	}
	b.face(Cut, roundRect(b.rect(0, 0, bodyW, bodyH), 5*b.u))
	b.hatchUnder([][]Pt{b.line(-wide, plateY-ear, 0, plateY-ear, 0, 1, bodyW, 1, bodyW, plateY-ear, bodyW+wide, plateY-ear, bodyW+wide, plateY, -wide, plateY)}, true)
	b.hatchFine([][]Pt{b.line(0, plateY, bodyW, plateY, bodyW, low, 0, low)}, math.Max(2.6, 3.4*b.u), false)
	b.hatchUnder([][]Pt{b.line(-wide, low, bodyW+wide, low, bodyW+wide, low+ear, bodyW, low+ear, bodyW, bodyH-1, 0, bodyH-1, 0, low+ear, -wide, low+ear)}, false)
	for _, y := range []float64{plateY, low} { // where the parts meet
		b.ink(b.s.Thin*1.3, Ink, b.line(-wide, y, bodyW+wide, y))
	}
	b.keep(-wide-1, plateY-ear-4, bodyW+2*wide+2, plateH+2*ear+8)
	b.hit(sim.PartValve, 0, 0, bodyW, bodyH)
	b.keep(0, 0, bodyW, bodyH)
}

func (b *builder) seat8(s sim.Seat) {
	x := seatX[s]
	up, down := Src(0), Src(s)
	switch s {
	case sim.SeatBackwash, sim.SeatRinse:
		up = SrcManifold
	case sim.SeatOutlet:
		up = Src(sim.PathBypassOut)
	case sim.SeatBrine:
		up = SrcPort
	default:
		up = Src(sim.PathBypassIn)
	}
	switch s {
	case sim.SeatBackwash:
		down = SrcTankHead
	case sim.SeatRinse, sim.SeatOutlet:
		down = SrcRiserHead
	case sim.SeatPass:
		down = Src(sim.PathBypassOut)
	case sim.SeatUpflow:
		down = SrcRiserHead
	case sim.SeatInlet:
		down = SrcTankHead
	}
	b.box(up, x-roomW/2, roomY, roomW, plateY-roomY)
	b.box(down, x-portW/2, plateY, portW, plateH)
	b.box(down, x-roomW/2, plateY+plateH, roomW, belowY-plateY-plateH)
	b.s.Seats[s] = Seat{
		Seat: s, X: b.p(x, 0).X, PlateY: b.p(0, plateY-ringH).Y,
		DiscW: 32 * b.u, DiscH: 7 * b.u, Lift: seatTop * b.u, StemW: 5 * b.u,
	}
	b.clear(x-16, plateY-seatTop-10, 32, seatTop+10)
	b.hit(sim.PartSeats, x-roomW/2, roomY-4, roomW, belowY-roomY+8)
}

func (b *builder) upperGalleries() {
	in, out := Src(sim.PathBypassIn), Src(sim.PathBypassOut)
	pass, brine := seatX[sim.SeatPass], seatX[sim.SeatBrine]
	b.channel(in, passW, 0, supplyY, pass, supplyY, pass, roomY+4)
	b.box(in, pass, roomY+3, seatX[sim.SeatMotive]-pass, 20)
	gap := riserX
	b.channel(out, passW, 0, houseY, seatX[sim.SeatOutlet], houseY, seatX[sim.SeatOutlet], roomY+4)
	b.channel(out, 14, pass, 107, gap, 107, gap, roomY+12, seatX[sim.SeatOutlet], roomY+12)
	b.channel(SrcManifold, 14, seatX[sim.SeatRinse], roomY+14, drainX, roomY+14, drainX, drainCtlY)
	b.channel(Src(sim.PathDrain), 14, drainX, drainCtlY, drainX, bodyH)
	b.channel(SrcPort, 13, brine, roomY+14, bodyW, roomY+14)
}

func (b *builder) lowerGalleries() {
	riser, top := SrcRiserHead, SrcTankHead
	rinse, outlet, upflow := seatX[sim.SeatRinse], seatX[sim.SeatOutlet], seatX[sim.SeatUpflow]
	b.channel(riser, passW, rinse, belowY-6, rinse, riserY, riserX, riserY)
	b.channel(riser, passW, outlet, belowY-6, outlet, riserY)
	b.channel(riser, passW, upflow, belowY-6, upflow, riserY, riserX, riserY)
	b.channel(riser, passW, riserX-4, riserY, riserX+4, riserY)
	bw, inlet := seatX[sim.SeatBackwash], seatX[sim.SeatInlet]
	b.channel(top, passW, bw, belowY-6, bw, bedY, riserX-neckW/2+4, bedY)
	b.channel(top, passW, inlet, belowY-6, inlet, bedY, riserX+neckW/2-4, bedY)
	b.box(top, riserX-neckW/2, bedY-passW/2, neckW, bodyH-bedY+passW/2)
}

// riserTop draws the end of the riser tube, which stands in the tank's neck.
func (b *builder) riserTop() {
	b.passage(Src(sim.PathRiser), riserW, 0, b.line(riserX, riserY, riserX, bodyH+1))
	b.flush()
	for _, k := range []float64{-1, 1} {
		x := riserX + k*(riserW/2+1.5) - 1.5
		b.top(Shell, b.rect(x, riserY+passW/2-1, 3, bodyH-riserY-passW/2+2).corners(), b.s.Thin)
		b.seal(riserX+k*(riserW/2+5), riserY+passW/2+3.5)
	}
}

func (b *builder) injector() {
	sc, th, back := Src(sim.PathMotiveSeat), Src(sim.PathDischarge), SrcReturn
	motive, brine := seatX[sim.SeatMotive], seatX[sim.SeatBrine]
	y := riserY
	b.channel(sc, 16, motive, belowY-6, motive, y, screenX, y)
	b.channel(SrcNozzle, 16, screenX, y, nozzleX, y)
	b.box(Src(sim.PathBrineSeat), suctionL, y-15, suctionR-suctionL, 30)
	b.box(Src(sim.PathBrineSeat), brine-7, belowY-4, 14, 16)
	b.pool(Src(sim.PathBrineSeat), suctionR, y-15, throatX, y-3.5, throatX, y+3.5, suctionR, y+15)
	b.box(th, throatX, y-3.5, throatE-throatX, 7)
	b.pool(back, throatE, y-3.5, diffE, y-passW/2, diffE, y+passW/2, throatE, y+3.5)
	inlet := seatX[sim.SeatInlet]
	if b.set.CounterCurrent {
		b.channel(back, passW, diffE-1, y, returnX, y, returnX, bedY, returnUpX, bedY, returnUpX, y, inlet+8, y)
		b.channel(back, passW, inlet-8, y, seatX[sim.SeatUpflow]-10, y)
		return
	}
	b.channel(back, passW, diffE-1, y, returnX, y, returnX, bedY, inlet-24, bedY)
}

// crossing draws the tube that takes a counter-current injector's discharge
// through the inlet's passage, whose water goes round it, to the riser gallery.
func (b *builder) crossing() {
	x, half := seatX[sim.SeatInlet], passW/2+2
	b.passage(SrcReturn, passW, 0, b.line(x-half, riserY, x+half, riserY))
	b.flush()
	for _, k := range []float64{-1, 1} {
		y := riserY + k*(passW/2+1.5) - 1.5
		b.top(Shell, b.rect(x-half, y, 2*half, 3).corners(), b.s.Thin)
	}
}

// nozzle draws the nozzle, which stands in the suction chamber.
func (b *builder) nozzle() {
	sc, y := SrcNozzle, riserY
	b.cutTop(b.line(nozzleX-1, y-12, suctionL, y-12, tipX, y-4, tipX, y+4, suctionL, y+12, nozzleX-1, y+12))
	b.pool(sc, nozzleX-1, y-8, tipX-6, y-2, tipX-6, y+2, nozzleX-1, y+8)
	b.box(sc, tipX-6, y-2, 6, 4)
	b.flush()
}

// cutTop is a small part in section that stands inside a passage.
func (b *builder) cutTop(pts []Pt) {
	b.top(Cut, pts, b.s.Thin*1.2)
	for _, s := range hatch([][]Pt{pts}, math.Max(3, 4*b.u), false) {
		b.ink(b.s.Thin*0.8, InkSoft, s[:])
	}
}

// valveTrim draws what stands in front of the passages: screen, drain flow
// control, glands, and the letterings.
func (b *builder) valveTrim() {
	y := riserY
	if b.open(sim.PartScreen) {
		b.screenPocket()
	} else {
		for k := 0.0; k < 3; k++ { // a fine mesh across the passage
			b.ink(b.s.Thin, Ink, b.line(screenX-3+3*k, y-8, screenX-3+3*k, y+8))
		}
	}
	b.hit(sim.PartScreen, screenX-10, y-14, 18, 28)
	b.hit(sim.PartInjector, nozzleX, y-16, diffE-nozzleX, 32)
	dy := drainCtlY
	if b.open(sim.PartDrainCtl) {
		b.drainControlPocket(dy)
	} else {
		for _, side := range []float64{-1, 1} { // an elastic washer narrows the bore
			x := drainX + side*7
			b.cutTop(b.line(x, dy-9, x-side*4, dy-5, x-side*4, dy+5, x, dy+9))
		}
	}
	b.hit(sim.PartDrainCtl, drainX-14, dy-18, 28, 36)
	b.valveLabels()
}

// valveNumbers says where the pressures inside the valve can be written.
func (b *builder) valveNumbers() {
	b.number(sim.NodeRiserTop, 146, riserY, 280, riserY)
	b.number(sim.NodeThroat, throatX+10, riserY-19, throatX+10, riserY+18)
	b.number(sim.NodeNozzleIn, nozzleX+2, riserY-17, nozzleX-4, riserY+18)
	b.number(sim.NodeSuction, seatX[sim.SeatBrine], belowY-10)
	b.number(sim.NodeScreen, seatX[sim.SeatMotive], belowY-10, seatX[sim.SeatMotive], riserY)
	b.number(sim.NodeValveBrine, 596, roomY+14, 585, roomY+14)
	b.number(sim.NodeDrainManifold, drainX, roomY+38)
	b.number(sim.NodeDrainLine, drainX, bodyH-26)
	b.number(sim.NodeValveIn, 210, supplyY, 120, supplyY)
	b.number(sim.NodeValveOut, 90, houseY, 60, houseY)
}

func (b *builder) valveLabels() {
	if b.s.Layers.Bare {
		return
	}
	row := 1.22 * b.opt.textSize(b.s) / b.u
	for i, s := range sim.SeatRow {
		size := b.opt.textSize(b.s)
		w := b.opt.Measure(s.String(), size, false)
		p := b.p(seatX[s], -8-row*(1+float64(i%2)))
		b.s.Plates = append(b.s.Plates, Placed{Text: s.String(), X: p.X - w/2, Y: p.Y, Size: size, Role: Ink})
		b.solid = append(b.solid, Rect{p.X - w/2, p.Y, w, size * 1.2})
	}
	mm := fmt.Sprintf("%.2f / %.2f mm", b.set.NozzleMM, b.set.ThroatMM)
	mid := (seatX[sim.SeatBrine] + roomW/2 + bodyW) / 2
	half := 0.62 * b.opt.small(b.s) / b.u
	if !b.plate(mm, 94, mid, riserY-29+half) {
		half = 0
	}
	b.plate("injector", 94, mid, riserY-29-half)
	b.plate("screen", 43, 481, belowY-8)
	if mid := (seatX[sim.SeatMotive] + seatX[sim.SeatBrine]) / 2; !b.plate("control valve", 70, mid, 26) {
		b.plate("valve", 80, mid, 26)
	}
}

// plate is a lettering on a cleared strip of a hatched face, its middle at
// (x, y); it is left out, and false returned, where it is wider than room.
func (b *builder) plate(text string, room, x, y float64) bool {
	size := b.opt.small(b.s)
	w := b.opt.Measure(text, size, false)
	if w > room*b.u {
		return false
	}
	p := b.p(x, y)
	pad := math.Min(3, (room*b.u-w)/2)
	r := Rect{p.X - w/2 - pad, p.Y - size*0.62, w + 2*pad, size * 1.24}
	b.over(Op{Kind: OpFill, Role: Cut, Pts: r.corners()})
	b.s.Labels = append(b.s.Labels, Placed{Text: text, X: r.X + pad, Y: r.Y, Size: size, Role: Ink})
	b.solid = append(b.solid, r)
	return true
}
