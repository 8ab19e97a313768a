package headless

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"brinebench/sim/strict"
)

// Bounds of a case of "network".
const (
	maxCase  = 8 << 20 // bytes
	maxNodes = 5000
	maxLinks = 10000
	maxReds  = 100 // reducers
	roughest = 0.1 // roughness over diameter
)

// decodePipework reads a case; the error names all its faults.
func decodePipework(file string, data []byte) (*pipework, error) {
	d := &pipeworkDecoder{c: &pipework{}, node: map[string]int{}, link: map[string]bool{}}
	var links []json.RawMessage
	d.w.Members("", quoteBareWords(data), []strict.Field{
		d.w.Number("g_m_s2", &d.c.GMS2, 1e-3, 1e3),
		d.w.Number("density_kg_m3", &d.c.RhoKgM3, 1e-3, 1e5),
		d.w.Number("viscosity_Pa_s", &d.c.MuPaS, 1e-9, 1e4),
		d.list("nodes", maxNodes, d.point),
		// Links name nodes, which may stand after them.
		{Key: "links", Read: func(_ string, raw []byte) { links = []json.RawMessage{raw} }},
	})
	d.cut = d.cut || len(links) == 0
	for _, raw := range links {
		d.list("links", maxLinks, d.passage).Read("links", raw)
	}
	d.whole()
	if err := d.w.Err(file); err != nil {
		return nil, err
	}
	return d.c, nil
}

type pipeworkDecoder struct {
	w    strict.Walk
	c    *pipework
	node map[string]int  // index of each id; of a node named twice the first
	link map[string]bool // ids seen
	cut  bool            // a list was too long to be read, or not reached
}

// list reads the items of a list of limited length.
func (d *pipeworkDecoder) list(key string, most int, read func(at string, raw []byte)) strict.Field {
	return strict.Field{Key: key, Read: func(at string, raw []byte) {
		var items []json.RawMessage
		if !d.w.Value(at, raw, &items) {
			d.cut = true
			return
		}
		if len(items) > most {
			d.w.Fault(at, "%d items, %d at most", len(items), most)
			d.cut = true
			return
		}
		for i, item := range items {
			read(fmt.Sprintf("%s[%d]", at, i), item)
		}
	}}
}

func optional(f strict.Field) strict.Field {
	f.Optional = true
	return f
}

// seen wraps the reader of a field that is optional and notes that it is there.
func seen(f strict.Field, there *bool) strict.Field {
	read := f.Read
	f.Optional = true
	f.Read = func(at string, raw []byte) {
		*there = true
		read(at, raw)
	}
	return f
}

func (d *pipeworkDecoder) point(at string, raw []byte) {
	var v point
	var elevated, demanding bool
	d.w.Members(at, raw, []strict.Field{
		d.w.Text("id", &v.ID),
		seen(d.w.Number("head_m", &v.HeadM, -1e5, 1e5), &v.Fixed),
		seen(d.w.Number("elevation_m", &v.ElevationM, -1e5, 1e5), &elevated),
		seen(d.w.Number("demand_L_s", &v.DemandLS, -1e5, 1e5), &demanding),
	})
	if v.Fixed == elevated {
		d.w.Fault(at, "a node has either elevation_m or head_m")
	}
	if v.Fixed && demanding {
		d.w.Fault(at, "demand_L_s: a node with head_m takes what comes")
	}
	if _, twice := d.node[v.ID]; twice && v.ID != "" {
		d.w.Fault(at+".id", "%q is the id of another node", v.ID)
	} else {
		d.node[v.ID] = len(d.c.Nodes)
	}
	d.c.Nodes = append(d.c.Nodes, v)
}

func (d *pipeworkDecoder) passage(at string, raw []byte) {
	l := passage{From: -1, To: -1, Kind: kindOf(raw)}
	var kindText, from, to string
	rough := d.w.Number("roughness_m", &l.RoughnessM, 0, 1)
	diameter := d.w.Number("diameter_m", &l.DiameterM, 1e-6, 100)
	k := d.w.Number("k", &l.K, 0, 1e12)
	flow := d.w.Number("flow_L_s", &l.FlowLS, 1e-9, 1e5)
	pressure := d.w.Number("pressure_m", &l.PressureM, -1e5, 1e5)
	length := d.w.Number("length_m", &l.LengthM, 1e-9, 1e6)
	cd := d.w.Number("cd", &l.Cd, 1e-6, 2)
	check := optional(strict.Field{Key: "check", Read: func(at string, raw []byte) { d.w.Value(at, raw, &l.Check) }})
	fields := []strict.Field{
		d.w.Text("id", &l.ID),
		d.w.Text("from", &from),
		d.w.Text("kind", &kindText, string(pipeKind), string(minorKind), string(orificeKind), string(regulatorKind), string(reducerKind)),
	}
	ending := d.w.Text("to", &to)
	switch l.Kind {
	case pipeKind:
		fields = append(fields, ending, length, diameter, rough, k, check)
	case minorKind:
		fields = append(fields, ending, diameter, k, check)
	case orificeKind:
		fields = append(fields, diameter, cd)
	case regulatorKind:
		fields = append(fields, ending, flow, diameter, k)
	case reducerKind:
		fields = append(fields, ending, pressure, diameter, k)
	default: // of an unknown kind, which is told, nothing else is known to be missing
		fields[0] = optional(fields[0])
		for _, f := range []strict.Field{ending, length, diameter, rough, k, check, cd, flow, pressure} {
			fields = append(fields, optional(f))
		}
	}
	d.w.Members(at, raw, fields)
	if l.Kind == pipeKind && l.DiameterM > 0 && l.RoughnessM > roughest*l.DiameterM {
		d.w.Fault(at+".roughness_m", "%v is more than %v of the diameter", l.RoughnessM, roughest)
	}
	d.join(at, &l, from, to)
}

// join finds the ends of a link and adds it to the case.
func (d *pipeworkDecoder) join(at string, l *passage, from, to string) {
	if d.link[l.ID] && l.ID != "" {
		d.w.Fault(at+".id", "%q is the id of another link", l.ID)
	}
	d.link[l.ID] = true
	l.From, l.To = d.end(at+".from", from), d.end(at+".to", to)
	if l.From >= 0 && l.From == l.To {
		d.w.Fault(at, "from %q to itself", from)
	}
	if l.Kind == orificeKind && l.From >= 0 && d.c.Nodes[l.From].Fixed {
		d.w.Fault(at+".from", "%q has no elevation_m at which an orifice could discharge", from)
	}
	if l.Kind == reducerKind && l.To >= 0 && d.c.Nodes[l.To].Fixed {
		d.w.Fault(at+".to", "%q has its head from head_m, and no elevation_m that pressure_m could stand on", to)
	}
	d.c.Passages = append(d.c.Passages, *l)
}

// end returns the index of a node, −1 when there is none of the name.
func (d *pipeworkDecoder) end(at, id string) int {
	if id == "" { // missing, which is told already, or an orifice's
		return -1
	}
	i, known := d.node[id]
	if !known {
		if !d.cut {
			d.w.Fault(at, "no node is named %q", id)
		}
		return -1
	}
	return i
}

// whole finds the faults of the case as a whole.
func (d *pipeworkDecoder) whole() {
	reducers := 0
	for _, l := range d.c.Passages {
		if l.Kind == reducerKind {
			reducers++
		}
	}
	if reducers > maxReds {
		d.w.Fault("links", "%d reducers, %d at most", reducers, maxReds)
	}
	if d.cut {
		return
	}
	for _, fault := range d.islands() {
		d.w.Fault("", "%s", fault)
	}
}

// islands looks for nodes without a way to a given head. Where a link leads
// nowhere that is known, which is told already, it may have been a way.
func (d *pipeworkDecoder) islands() []string {
	known := pipework{Nodes: slices.Clone(d.c.Nodes)}
	for _, l := range d.c.Passages {
		switch {
		case l.From >= 0 && (l.To >= 0 || l.Kind == orificeKind):
			known.Passages = append(known.Passages, l)
		case l.From >= 0:
			known.Nodes[l.From].Fixed = true
		case l.To >= 0:
			known.Nodes[l.To].Fixed = true
		}
	}
	return known.islands()
}

// kindOf looks up the kind of a link before its fields are read, "" when it has
// none that is known.
func kindOf(raw []byte) kind {
	var head struct{ Kind json.RawMessage }
	var k kind
	if json.Unmarshal(raw, &head) != nil || json.Unmarshal(head.Kind, &k) != nil {
		return ""
	}
	switch k {
	case pipeKind, minorKind, orificeKind, regulatorKind, reducerKind:
		return k
	}
	return ""
}

// quoteBareWords puts quotation marks round words that JSON does not know, such
// as NaN and -Infinity, so that each is told as the fault of its own field and
// the rest of the file is still read.
func quoteBareWords(data []byte) []byte {
	var out strings.Builder
	inText := false
	for i := 0; i < len(data); {
		ch := data[i]
		if inText && ch == '\\' && i+1 < len(data) {
			out.Write(data[i : i+2])
			i += 2
			continue
		}
		if ch == '"' {
			inText = !inText
		}
		end := i
		if !inText {
			for end < len(data) && wordByte(data[end]) {
				end++
			}
		}
		if end == i {
			out.WriteByte(ch)
			i++
			continue
		}
		if word := data[i:end]; json.Valid(word) {
			out.Write(word)
		} else {
			fmt.Fprintf(&out, "%q", word)
		}
		i = end
	}
	return []byte(out.String())
}

func wordByte(ch byte) bool {
	return ch >= '0' && ch <= '9' || ch >= 'a' && ch <= 'z' || ch >= 'A' && ch <= 'Z' || ch == '+' || ch == '-' || ch == '.' || ch == '_'
}
