package viewmodel

import "brinebench/sim"

// open tells whether the picture shows a part dismantled.
func (b *builder) open(p sim.Part) bool { return isOpen(b.opt.Inside, p) }

// pocket is the empty place of a part that has been taken out, as x, y pairs,
// with mouths where passages end at it.
func (b *builder) pocket(xy []float64, mouths ...[4]float64) {
	b.top(Paper, b.line(xy...), b.s.Heavy)
	for _, m := range mouths {
		b.ink(b.s.Heavy*1.4, Paper, b.line(m[:]...))
	}
}

// socket is the hollow in the valve's underside that neck and riser leave when it is taken off.
func (b *builder) socket() {
	const x, neck, tube = riserX, neckW / 2, riserW/2 + 3
	const foot, shoulder, head = bodyH, bedY - passW/2, riserY + passW/2
	b.pocket([]float64{x - neck, foot, x - neck, shoulder, x - tube, shoulder, x - tube, head, x + tube, head, x + tube, shoulder, x + neck, shoulder, x + neck, foot},
		[4]float64{x - neck + 1, foot, x + neck - 1, foot}, [4]float64{x - neck, shoulder + 1, x - neck, foot - 6},
		[4]float64{x + neck, shoulder + 1, x + neck, foot - 6}, [4]float64{x - tube + 2, head, x + tube - 2, head})
	for _, k := range []float64{-1, 1} {
		b.seal(x+k*(riserW/2+5), head+3.5)
	}
}

func (b *builder) injectorPocket() {
	const x0, x1, x2 = nozzleX - 4, suctionR + 4, diffE + 3
	y, brine := riserY, seatX[sim.SeatBrine]
	b.pocket([]float64{x0, y - 18, x1, y - 18, x1, y - 12, x2, y - 12, x2, y + 12, x1, y + 12, x1, y + 18, x0, y + 18},
		[4]float64{x0, y - 7, x0, y + 7}, [4]float64{x2, y - 8, x2, y + 8}, [4]float64{brine - 6, y - 18, brine + 6, y - 18})
}

func (b *builder) screenPocket() {
	const x0, x1, y = screenX - 9, screenX + 7, riserY
	b.pocket([]float64{x0, y - 12, x1, y - 12, x1, y + 12, x0, y + 12},
		[4]float64{x0, y - 7, x0, y + 7}, [4]float64{x1, y - 7, x1, y + 7})
}

func (b *builder) drainControlPocket(y float64) {
	const x0, x1 = drainX - 10, drainX + 10
	b.pocket([]float64{x0, y - 11, x1, y - 11, x1, y + 11, x0, y + 11},
		[4]float64{x0 + 4, y - 11, x1 - 4, y - 11}, [4]float64{x0 + 4, y + 11, x1 - 4, y + 11})
}

func (b *builder) refillPocket(x, y float64) {
	b.pocket([]float64{x - 9, y - 10, x + 9, y - 10, x + 9, y + 10, x - 9, y + 10},
		[4]float64{x - 9, y - 3, x - 9, y + 3}, [4]float64{x + 9, y - 3, x + 9, y + 3})
}

// tube is an empty pipe.
func (b *builder) tube(w, wall float64, xy ...float64) {
	pts := fillet(b.line(xy...), w*b.u*1.3)
	b.ink((w+2*wall)*b.u+2*b.s.Heavy, Ink, pts)
	b.ink((w+2*wall)*b.u, Shell, pts)
	b.ink(w*b.u+2.5*b.s.Thin, Ink, pts)
	b.ink(w*b.u, Paper, pts)
}

// drainOff draws the hose taken off the drain port at (x, y): it hangs empty
// over the air gap at (ex, ey), and the port drains into a bucket hung below it.
func (b *builder) drainOff(x, y, ex, ey float64) {
	src := Src(sim.PathDrain)
	b.pipe(src, 11, 2, x, y, x, y+12)
	b.flush()
	b.flow(src, 12.7, 11, of(sim.PathDrain), x, y, x, y+12)
	top := y + 36.0
	if ex == x {
		top = y + 86
	}
	b.tube(11, 2, ex, top, ex, ey)

	const half, foot, rim, deep = 20.0, 16.0, 26.0, 32.0
	b.ink(b.s.Thin*1.2, Ink, b.line(x-half, y+rim, x-9, y+6, x+9, y+6, x+half, y+rim)) // bail
	b.face(Paper, b.line(x-half, y+rim, x+half, y+rim, x+foot, y+rim+deep, x-foot, y+rim+deep))
	b.ink(b.s.Heavy*1.4, Ink, b.line(x-half-2, y+rim, x+half+2, y+rim))
	b.keep(x-half-3, y, 2*half+6, rim+deep+2)
	b.s.Jets[0] = Jet{Top: b.p(x, y+12), Bottom: b.p(x, y+rim+deep-2), FullW: 10 * b.u, FullM3S: 1.7e-4, Src: src}
}

// brineOff draws the brine line taken off behind the refill control: a stump of
// it, and the tube that begins after a gap. It returns the tube's way.
func (b *builder) brineOff(xy []float64) []float64 {
	stump, gap := 30.0, 22.0
	if b.s.Tall { // the line turns down at once
		stump = 22
	}
	x, y := xy[0], xy[1]
	b.pipe(Src(sim.PathBrineLine), 7, 1.6, x, y, x+stump, y)
	rest := append([]float64{}, xy...)
	if rest[0] += stump + gap; rest[0] >= rest[2]-8 {
		rest = rest[2:]
		rest[1] += gap
	}
	return rest
}
