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
	b.flow(out, gallery, passW, of(sim.PathBypassOut), x[sim.SeatOutlet], roomY+12, x[sim.SeatOutlet], houseY, 0, houseY)
	b.flow(out, gallery, passW, of(sim.PathPassSeat), x[sim.SeatPass], 107, riserX, 107, riserX, roomY+12, x[sim.SeatOutlet], roomY+12)
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

	top, riser := SrcTankHead, SrcRiserHead
	nl := riserX - neckW/2 + 8
	b.flow(top, gallery, passW, of(sim.PathBackwashSeat), nl, bodyH, nl, bedY, x[sim.SeatBackwash], bedY, x[sim.SeatBackwash], 106).Beads = true
	b.returnFlows(gallery)
	b.flow(riser, gallery, passW, of(sim.PathRinseSeat), x[sim.SeatOutlet], riserY, x[sim.SeatRinse], riserY, x[sim.SeatRinse], 106)
	b.flow(riser, gallery, passW, []Term{{sim.PathRinseSeat, 1}, {sim.PathOutletSeat, 1}}, riserX, riserY, x[sim.SeatOutlet], riserY)
	b.flow(riser, gallery, passW, of(sim.PathOutletSeat), x[sim.SeatOutlet], riserY, x[sim.SeatOutlet], 106)

	b.flow(Src(sim.PathMotiveSeat), 8, 16, of(sim.PathMotiveSeat), x[sim.SeatMotive], 106, x[sim.SeatMotive], riserY, nozzleX, riserY)
	b.flow(Src(sim.PathMotiveSeat), 3, 4, of(sim.PathMotiveSeat), nozzleX, riserY, tipX, riserY)
	b.flow(Src(sim.PathBrineSeat), 8, 14, of(sim.PathBrineSeat), x[sim.SeatBrine], 106, x[sim.SeatBrine], riserY-4, throatX, riserY)
	b.flow(Src(sim.PathDischarge), 4, 5, of(sim.PathDischarge), tipX+2, riserY, throatE, riserY)
	b.flow(Src(sim.PathBrineLine), 6.3, 12, of(sim.PathBrineLine), bodyW, roomY+14, x[sim.SeatBrine], roomY+14)
}

// returnFlows lays what comes from inlet, upflow and injector, whose discharge goes
// above the bed or, in a counter-current unit, below it.
func (b *builder) returnFlows(gallery float64) {
	top, riser, discharge := SrcTankHead, SrcRiserHead, Src(sim.PathDischarge)
	in, up, neck := seatX[sim.SeatInlet], seatX[sim.SeatUpflow], riserX+neckW/2-8
	above, below := of(sim.PathInletSeat), of(sim.PathUpflowSeat)
	if b.set.CounterCurrent {
		below = append(below, Term{sim.PathDischarge, 1})
		b.flow(discharge, 8, 15, of(sim.PathDischarge), throatE, riserY, returnX, riserY, returnX, bedY, returnUpX, bedY, returnUpX, riserY, up, riserY)
		b.flow(top, gallery, passW, of(sim.PathInletSeat), in, 106, in, riserY-passW/2-4)
		b.flow(top, gallery, passW, of(sim.PathInletSeat), in, riserY+passW/2+4, in, bedY)
	} else {
		above = append(above, Term{sim.PathDischarge, 1})
		b.flow(discharge, 8, 15, of(sim.PathDischarge), throatE, riserY, returnX, riserY, returnX, bedY, in, bedY)
		b.flow(top, gallery, passW, of(sim.PathInletSeat), in, 106, in, bedY)
	}
	b.flow(top, gallery, passW, above, in, bedY, neck, bedY, neck, bodyH)
	b.flow(riser, gallery, passW, of(sim.PathUpflowSeat), up, 106, up, riserY)
	b.flow(riser, gallery, passW, below, up, riserY, riserX, riserY)
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
