package plant

import "math"

// noFlow is the flow below which a passage is taken to stand still when water
// is followed through the pipes, m³/s. It is far below the leak of a shut seat
// (1e-9), which the books must not lose.
const noFlow = 1e-18

// trace follows the water from its sources through the network in its
// present flow: every node's blend by source. Pipes hold no water of their own; the volumes that matter, freeboard,
// plenum and brine tank, are sources.
func (s *State) trace(p *plumbing) {
	s.Mixes[Street] = mix{fromRaw: 1}
	s.Mixes[BedTop] = mix{fromTop: 1}
	s.Mixes[BedBottom] = mix{fromBottom: 1}
	s.Mixes[tankLiquid] = mix{fromTank: 1}
	if s.Felt.Dry {
		s.Mixes[tankLiquid] = mix{fromAir: 1}
	}
	s.Mixes[cushion] = mix{fromCushion: 1}
	s.Mixes[atmosphere] = mix{fromAir: 1}
	for range numNodes {
		if !s.sweep(p) {
			break
		}
	}
}

// settleRates finds the flow into each sink by source from the flows and blends.
func (s *State) settleRates(p *plumbing) {
	s.Rates = [numSinks]mix{}
	for _, arrival := range p.arrivals {
		q := s.Net.Q[arrival.link]
		if !arrival.forward {
			q = -q
		}
		if q <= 0 {
			continue
		}
		e := p.ends[arrival.link]
		from := e.From
		if !arrival.forward {
			from = e.To
		}
		for i, share := range s.Mixes[from] {
			s.Rates[arrival.sink][i] += float64(q * share)
		}
	}
	s.vent(p)
	s.close()
}

// vent takes the air that the injector brings out of the water where it comes in:
// it gathers in the head of the tank, and the bed gets water alone.
func (s *State) vent(p *plumbing) {
	if s.Air.M3S <= 0 {
		return
	}
	into := toTop
	if p.ends[linkDischarge].To != int(BedTop) {
		into = toBottom
	}
	s.Rates[into][fromAir] = math.Max(0, s.Rates[into][fromAir]-s.Air.M3S)
	s.Rates[toVent][fromAir] += s.Air.M3S
}

// close makes the bed's ends balance to the last bit. The solver leaves up to
// 6e-14 m³/s between them; as a drop to the house or from the street it is booked
// like any other water, so that no ion is lost with it.
func (s *State) close() {
	gap := 0.0
	for i := range numSources {
		gap += s.Rates[toTop][i] + s.Rates[toBottom][i]
	}
	for sink := range numSinks {
		gap -= s.Rates[sink][fromTop] + s.Rates[sink][fromBottom]
	}
	if gap > 0 {
		s.Rates[toHouse][fromBottom] += gap
	} else {
		s.Rates[toBottom][fromRaw] -= gap
	}
}

// sweep blends once what arrives at every node and reports whether any blend changed.
func (s *State) sweep(p *plumbing) bool {
	var in [numNodes]mix
	var sum [numNodes]float64
	for l, e := range p.ends {
		q := s.Net.Q[l]
		from, to := e.From, e.To
		if q < 0 {
			q, from, to = -q, e.To, e.From
		}
		if q < noFlow {
			continue
		}
		sum[to] += q
		in[to].add(q, &s.Mixes[from])
	}
	changed := false
	for n := range in {
		if sum[n] == 0 || isSource[n] {
			continue
		}
		if in[n].share(sum[n], &s.Mixes[n]) {
			changed = true
		}
	}
	return changed
}

// add adds a flow q of the blend from. Written out, for it is the innermost loop.
func (v *mix) add(q float64, from *mix) {
	v[0] += float64(q * from[0])
	v[1] += float64(q * from[1])
	v[2] += float64(q * from[2])
	v[3] += float64(q * from[3])
	v[4] += float64(q * from[4])
	v[5] += float64(q * from[5])
}

// share sets blend to the shares of v, which sum to sum, and reports whether that
// changed it.
func (v *mix) share(sum float64, blend *mix) bool {
	now := mix{v[0] / sum, v[1] / sum, v[2] / sum, v[3] / sum, v[4] / sum, v[5] / sum}
	if now == *blend {
		return false
	}
	*blend = now
	return true
}

var isSource = [numNodes]bool{
	Street: true, BedTop: true, BedBottom: true, tankLiquid: true, cushion: true, atmosphere: true,
}
