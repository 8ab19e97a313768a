package headless

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
)

// randomPipework draws a network that the peer takes too: a tree from a
// reservoir, closed into loops, with openings, demands, checks, regulators and
// reducers. No two regulators or reducers share a node and none is at a
// reservoir, and nothing is demanded behind a regulator or check, all of which
// the peer refuses or cannot settle.
func randomPipework(r *rand.Rand) []byte {
	b := &builder{r: r, nodes: []map[string]any{{"id": "R", "head_m": b2(30 + 30*r.Float64())}}}
	size := 5 + r.IntN(12)
	for i := 1; i <= size; i++ {
		b.grow(i)
	}
	for range 1 + r.IntN(5) {
		b.loop(1+r.IntN(size), 1+r.IntN(size))
	}
	if r.Float64() < 0.4 { // a second source
		b.nodes = append(b.nodes, map[string]any{"id": "S", "head_m": b2(15 + 35*r.Float64())})
		b.link(b.plain(r.Float64() < 0.5), "S", b.name(1+r.IntN(size)))
	}
	b.openings(size)
	text, err := json.Marshal(map[string]any{
		"g_m_s2": peerG, "density_kg_m3": 998.2, "viscosity_Pa_s": 0.001, "nodes": b.nodes, "links": b.links,
	})
	if err != nil {
		panic(err)
	}
	return text
}

type builder struct {
	r            *rand.Rand
	nodes, links []map[string]any
	valved       map[int]bool // nodes at a regulator or reducer
	behind       map[int]bool // nodes with a regulator or check between them and the source
}

// b2 rounds to two digits, as a case would be written.
func b2(x float64) float64 { return float64(int(100*x)) / 100 }

func (b *builder) name(i int) string {
	if i == 0 {
		return "R"
	}
	return fmt.Sprintf("J%d", i)
}

// grow adds node i to the tree.
func (b *builder) grow(i int) {
	if b.valved == nil {
		b.valved, b.behind = map[int]bool{}, map[int]bool{}
	}
	parent := max(i-1-b.r.IntN(3), 0)
	v := map[string]any{"id": b.name(i), "elevation_m": b2(6 * b.r.Float64())}
	b.behind[i] = b.behind[parent]
	l := b.plain(false)
	switch u := b.r.Float64(); {
	case u < 0.15 && parent > 0 && !b.valved[parent]:
		l = b.local("regulator")
		l["flow_L_s"] = 0.05 + 0.4*b.r.Float64()
		b.valved[parent], b.valved[i], b.behind[i] = true, true, true
	case u < 0.3 && parent > 0 && !b.valved[parent]:
		l = b.local("reducer")
		l["pressure_m"] = b2(3 + 25*b.r.Float64())
		b.valved[parent], b.valved[i] = true, true
	case u < 0.4:
		l["check"] = true
		b.behind[i] = true
	}
	if !b.behind[i] && b.r.Float64() < 0.3 {
		v["demand_L_s"] = 0.02 * b.r.Float64()
	}
	b.nodes = append(b.nodes, v)
	b.link(l, b.name(parent), b.name(i))
}

// loop joins two nodes by a pipe or minor loss, with or without a check.
func (b *builder) loop(i, j int) {
	if i != j {
		b.link(b.plain(b.r.Float64() < 0.3), b.name(i), b.name(j))
	}
}

// openings puts orifices at some nodes, some of them higher than the water
// stands.
func (b *builder) openings(size int) {
	for i := 1; i <= size; i++ {
		if b.r.Float64() < 0.5 || i == size {
			b.links = append(b.links, map[string]any{
				"id": fmt.Sprintf("O%d", i), "kind": "orifice", "from": b.name(i),
				"diameter_m": 0.002 + 0.005*b.r.Float64(), "cd": b2(0.6 + 0.3*b.r.Float64()),
			})
			if i != size && b.r.Float64() < 0.15 {
				b.nodes[i]["elevation_m"] = 70.0
			}
		}
	}
}

func (b *builder) local(kind string) map[string]any {
	return map[string]any{"kind": kind, "diameter_m": 0.012 + 0.013*b.r.Float64(), "k": b2(1 + 15*b.r.Float64())}
}

// plain is a pipe or minor loss.
func (b *builder) plain(check bool) map[string]any {
	l := b.local("minor")
	if b.r.Float64() < 0.5 {
		l["kind"] = "pipe"
		l["length_m"] = b2(1 + 20*b.r.Float64())
		l["roughness_m"] = 1e-6 * float64(1+b.r.IntN(200))
	}
	if check {
		l["check"] = true
	}
	return l
}

func (b *builder) link(l map[string]any, from, to string) {
	l["id"], l["from"], l["to"] = fmt.Sprintf("L%d", len(b.links)), from, to
	b.links = append(b.links, l)
}
