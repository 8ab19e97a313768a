package viewmodel

import "brinebench/sim"

// valveFlows lays the streams through galleries and seats.
func (b *builder) valveFlows() {
	in, out, drain := Src(sim.PathBypassIn), Src(sim.PathBypassOut), Src(sim.PathDrain)
	const gallery, port = 19, 15
	x := seatX
	b.flow(in, gallery, passW, of(sim.PathBypassIn), 0, supplyY, x[sim.SeatPass], supplyY, x[sim.SeatPass], roomY+12)
	gy := roomY + 13
	b.flow(in, gallery, passW, less(sim.PathBypassIn, sim.PathPassSeat), x[sim.SeatPass], gy, x[sim.SeatUpflow], gy)
	b.flow(in, gallery, passW, less(sim.PathBypassIn, sim.PathPassSeat, sim.PathUpflowSeat), x[sim.SeatUpflow], gy, x[sim.SeatInlet], gy)
	b.flow(in, gallery, passW, of(sim.PathMotiveSeat), x[sim.SeatInlet], gy, x[sim.SeatMotive], gy)
	b.flow(out, gallery, passW, of(sim.PathBypassOut), x[sim.SeatOutlet], houseY, 0, houseY)
	b.flow(out, gallery, passW, of(sim.PathPassSeat), x[sim.SeatPass], 107, riserX, 107, riserX, roomY+12, x[sim.SeatOutlet], roomY+12, x[sim.SeatOutlet], houseY)
	b.flow(drain, 12.7, 14, of(sim.PathRinseSeat), x[sim.SeatRinse], roomY+14, x[sim.SeatBackwash], roomY+14)
	b.flow(drain, 12.7, 14, of(sim.PathDrain), x[sim.SeatBackwash], roomY+14, drainX, roomY+14, drainX, bodyH).Beads = true

	b.through(sim.SeatPass, port, true)
	b.through(sim.SeatUpflow, port, true)
	b.through(sim.SeatInlet, port, true)
	b.through(sim.SeatMotive, 8, true)
	b.through(sim.SeatBackwash, port, false)
	b.through(sim.SeatRinse, port, false)
	b.through(sim.SeatOutlet, port, false)
	b.through(sim.SeatBrine, 8, true)

	top, riser := SrcFreeboard, Src(sim.PathRiser)
	nl, nr := riserX-neckW/2+8, riserX+neckW/2-8
	b.flow(top, gallery, passW, of(sim.PathBackwashSeat), nl, bodyH, nl, bedY, x[sim.SeatBackwash], bedY, x[sim.SeatBackwash], 106).Beads = true
	b.flow(top, gallery, passW, of(sim.PathInletSeat), x[sim.SeatInlet], 106, x[sim.SeatInlet], bedY)
	b.flow(top, gallery, passW, []Term{{sim.PathInletSeat, 1}, {sim.PathDischarge, 1}}, x[sim.SeatInlet], bedY, nr, bedY, nr, bodyH)
	b.flow(riser, gallery, passW, of(sim.PathRinseSeat), x[sim.SeatOutlet], riserY, x[sim.SeatRinse], riserY, x[sim.SeatRinse], 106)
	b.flow(riser, gallery, passW, []Term{{sim.PathRinseSeat, 1}, {sim.PathOutletSeat, 1}}, riserX, riserY, x[sim.SeatOutlet], riserY)
	b.flow(riser, gallery, passW, of(sim.PathOutletSeat), x[sim.SeatOutlet], riserY, x[sim.SeatOutlet], 106)
	b.flow(riser, gallery, passW, of(sim.PathUpflowSeat), x[sim.SeatUpflow], 106, x[sim.SeatUpflow], riserY, riserX, riserY)

	b.flow(Src(sim.PathMotiveSeat), 8, 16, of(sim.PathMotiveSeat), x[sim.SeatMotive], 106, x[sim.SeatMotive], riserY, nozzleX, riserY)
	b.flow(Src(sim.PathMotiveSeat), 3, 4, of(sim.PathMotiveSeat), nozzleX, riserY, tipX, riserY)
	b.flow(Src(sim.PathBrineSeat), 8, 14, of(sim.PathBrineSeat), x[sim.SeatBrine], 106, x[sim.SeatBrine], riserY-4, throatX, riserY)
	b.flow(Src(sim.PathDischarge), 4, 5, of(sim.PathDischarge), tipX+2, riserY, throatE, riserY)
	b.flow(Src(sim.PathDischarge), 8, 15, of(sim.PathDischarge), throatE, riserY, returnX, riserY, returnX, bedY, x[sim.SeatInlet], bedY)
	b.flow(Src(sim.PathBrineLine), 6.3, 12, of(sim.PathBrineLine), bodyW, roomY+14, x[sim.SeatBrine], roomY+14)
}

// through lays the two streams round the disc of a seat, downwards or upwards.
func (b *builder) through(s sim.Seat, boreMM float64, down bool) {
	x, src := seatX[s], Src(s)
	for _, k := range []float64{-1, 1} {
		xy := []float64{x + 17*k, roomY + 8, x + 18*k, plateY - 5, x + 5*k, plateY + 2, x + 4*k, 108}
		if !down {
			for i, j := 0, len(xy)-2; i < j; i, j = i+2, j-2 {
				xy[i], xy[i+1], xy[j], xy[j+1] = xy[j], xy[j+1], xy[i], xy[i+1]
			}
		}
		b.flow(src, boreMM, 8, of(sim.Path(s)), xy...).Gap = 16
	}
}
