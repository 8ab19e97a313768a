package plant

import "math"

// noFlow is the flow below which a passage is taken to stand still when water
// is followed through the pipes, m³/s. It is far below the leak of a shut seat
// (1e-9), which the books must not lose.
const noFlow = 1e-18

// stream is the flow of a link, from where it comes to where it goes.
type stream struct {
	from, to int
	q        float64 // m³/s, above 0
}

// trace follows the water from its sources through the network in its
// present flow: every node's blend by source. Pipes hold no water of their own; the
// volumes that matter, freeboard, plenum and brine tank, are sources. The
// streams are found once, so that the sweeps have no jump but their loops': in
// WebAssembly one is dear.
func (m *Model) trace(s *State, p *plumbing) {
	s.Mixes[Street] = mix{fromRaw: 1}
	s.Mixes[BedTop] = mix{fromTop: 1}
	s.Mixes[BedBottom] = mix{fromBottom: 1}
	s.Mixes[tankLiquid] = mix{fromTank: 1}
	if s.Felt.Dry {
		s.Mixes[tankLiquid] = mix{fromAir: 1}
	}
	s.Mixes[cushion] = mix{fromCushion: 1}
	s.Mixes[atmosphere] = mix{fromAir: 1}
	var (
		all    [numLinks]stream
		fed    [numNodes]int // nodes that get water and are no source
		sum    [numNodes]float64
		n, get int
	)
	for l, e := range p.ends {
		q, from, to := s.Net.Q[l], e.From, e.To
		if q < 0 {
			q, from, to = -q, e.To, e.From
		}
		if q >= noFlow {
			all[n] = stream{from, to, q}
			sum[to] += q
			n++
		}
	}
	m.stand(s, &sum)
	for node, q := range sum {
		if q > 0 && !isSource[node] {
			fed[get] = node
			get++
		}
	}
	for range numNodes {
		if !s.sweep(all[:n], fed[:get], &sum) {
			break
		}
	}
}

// stand keeps the water of the nodes that come to rest with the flows sum as it was.
func (m *Model) stand(s *State, sum *[numNodes]float64) {
	for node := range s.Still {
		still := sum[node] < restM3S && !isSource[node]
		if still && !s.Still[node] {
			s.Stood[node] = m.Water(s, Node(node))
		}
		s.Still[node] = still
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
		s.Rates[arrival.sink].add(q, &s.Mixes[from])
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

// sweep blends once what the streams bring to the nodes that are fed, sum to each,
// and reports whether any blend changed.
func (s *State) sweep(streams []stream, fed []int, sum *[numNodes]float64) bool {
	var in [numNodes]mix
	for i := range streams {
		x := &streams[i]
		in[x.to].add(x.q, &s.Mixes[x.from])
	}
	moved := 0.0
	for _, n := range fed {
		moved += s.Mixes[n].become(&in[n], sum[n])
	}
	return moved > 0
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

// become sets the blend v to the shares of in, which sum to sum, and returns by how
// much that changed it.
func (v *mix) become(in *mix, sum float64) float64 {
	was := *v
	v[0], v[1], v[2], v[3], v[4], v[5] = in[0]/sum, in[1]/sum, in[2]/sum, in[3]/sum, in[4]/sum, in[5]/sum
	return math.Abs(v[0]-was[0]) + math.Abs(v[1]-was[1]) + math.Abs(v[2]-was[2]) +
		math.Abs(v[3]-was[3]) + math.Abs(v[4]-was[4]) + math.Abs(v[5]-was[5])
}

var isSource = [numNodes]bool{
	Street: true, BedTop: true, BedBottom: true, tankLiquid: true, cushion: true, atmosphere: true,
}
