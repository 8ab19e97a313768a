package viewmodel

import (
	"math"
	"slices"
	"strings"

	"brinebench/game/say"
)

// Measure returns the width of a text in CSS px at a size in CSS px.
type Measure func(text string, size float64, bold bool) float64

// label is a lettering that still seeks its place.
type label struct {
	text, short string
	at          []Pt // places to try, CSS px; the point is where align and vert say
	align       []float64
	size        float64
	bold        bool
	role        Role
	must        bool // drawn even when it collides
	leadTo      *Pt  // end of the leader line
	leadBack    *Pt  // its end when the lettering stands left of the part
}

// label adds a lettering at a place in drawing units. align: 0 the place is its
// left, 0.5 its middle, 1 its right end; vertically the place is its middle.
func (b *builder) label(text, short string, align, x, y float64) *label {
	b.labels = append(b.labels, label{
		text: say.Sim(text), short: say.Sim(short), at: []Pt{b.p(x, y)}, align: []float64{align},
		size: b.opt.textSize(b.s), role: Ink,
	})
	return &b.labels[len(b.labels)-1]
}

// or adds another place to try.
func (l *label) or(b *builder, align, x, y float64) *label {
	l.at, l.align = append(l.at, b.p(x, y)), append(l.align, align)
	return l
}

// lead draws a leader line from the lettering to a point.
func (l *label) lead(b *builder, x, y float64) *label {
	p := b.p(x, y)
	l.leadTo = &p
	return l
}

// leadLeft is where the leader ends when the lettering stands left of the part.
func (l *label) leadLeft(b *builder, x, y float64) *label {
	p := b.p(x, y)
	l.leadBack = &p
	return l
}

func (l *label) soft() *label { l.role = InkSoft; return l }

// place gives every lettering the first of its places that is free, long form
// before short; one that finds none is left out.
func (b *builder) place() {
	if b.s.Layers.Bare {
		return
	}
	taken := append([]Rect(nil), b.solid...)
	written := b.written()
	stage := Rect{2, 1, b.s.W - 4, b.s.H - 2}
	for i := range b.labels {
		l := &b.labels[i]
		if r, text, ok := b.seat(l, taken, written, stage); ok {
			taken, written = append(taken, Rect{r.X - 8, r.Y - 2, r.W + 16, r.H + 4}), append(written, r) // two words on a line are not one
			b.letter(l, text, r)
			b.leader(l, r)
		}
	}
}

// curt shortens a word to what fits into a width, with a point for the rest.
func (b *builder) curt(word string, size, w float64) string {
	all := []rune(word)
	for n := len(all); n > 0 && b.opt.Measure(word, size, false) > w; n-- {
		word = string(all[:n-1]) + "."
	}
	return word
}

// written are the letterings that stand already; leader lines keep off them.
func (b *builder) written() (rs []Rect) {
	for _, list := range [][]Placed{b.s.Labels, b.s.Plates} {
		for _, l := range list {
			rs = append(rs, Rect{l.X, l.Y, b.opt.Measure(l.Text, l.Size, l.Bold), l.Size * 1.2})
		}
	}
	for i := range b.s.Readouts {
		rs = append(rs, b.s.Readouts[i].Box)
	}
	return rs
}

// letter writes the lines of a placed label, aligned as it asks.
func (b *builder) letter(l *label, text string, r Rect) {
	for i, line := range strings.Split(text, "\n") {
		x := r.X + l.align[0]*(r.W-b.opt.Measure(line, l.size, l.bold))
		b.s.Labels = append(b.s.Labels, Placed{line, x, r.Y + float64(i)*l.size*1.2, l.size, l.bold, l.role})
	}
}

// extent is the size of a text of one or more lines.
func (b *builder) extent(text string, size float64, bold bool) (w, h float64) {
	for line := range strings.SplitSeq(text, "\n") {
		w, h = math.Max(w, b.opt.Measure(line, size, bold)), h+size*1.2
	}
	return w, h
}

func (b *builder) seat(l *label, taken, written []Rect, stage Rect) (Rect, string, bool) {
	texts := []string{l.text, l.short}
	if b.s.Tall && l.short != "" {
		texts = []string{l.short}
	}
	for _, text := range texts {
		if text == "" {
			continue
		}
		w, h := b.extent(text, l.size, l.bold)
		for k, p := range l.at {
			r := Rect{p.X - l.align[k]*w, p.Y - h/2, w, h}
			if l.must || fits(r, taken, stage) && b.leads(l, r, written) {
				return r, text, true
			}
		}
	}
	return Rect{}, "", false
}

func fits(r Rect, taken []Rect, stage Rect) bool {
	if r.X < stage.X || r.Y < stage.Y || r.X+r.W > stage.X+stage.W || r.Y+r.H > stage.Y+stage.H {
		return false
	}
	return !overlapsAny(r, taken)
}

// leads tells whether the leader of a label at r keeps off all letterings, and the
// label off all leaders.
func (b *builder) leads(l *label, r Rect, written []Rect) bool {
	for _, lead := range b.s.Leads {
		if crosses(lead[0], lead[1], r.Inset(-1)) {
			return false
		}
	}
	lead, ok := l.line(r)
	return !ok || !slices.ContainsFunc(written, func(w Rect) bool { return crosses(lead[0], lead[1], w) })
}

// crosses tells whether the segment from p to q touches r.
func crosses(p, q Pt, r Rect) bool {
	t0, t1 := 0.0, 1.0
	for _, c := range [4][2]float64{{p.X - q.X, p.X - r.X}, {q.X - p.X, r.X + r.W - p.X}, {p.Y - q.Y, p.Y - r.Y}, {q.Y - p.Y, r.Y + r.H - p.Y}} {
		switch d, room := c[0], c[1]; { // Liang and Barsky's clipping: d·t ≤ room on each side
		case d == 0 && room < 0:
			return false
		case d < 0:
			t0 = math.Max(t0, room/d)
		case d > 0:
			t1 = math.Min(t1, room/d)
		}
	}
	return t0 <= t1
}

// line is the leader line of a label at r: from its near side to its target.
func (l *label) line(r Rect) (lead [2]Pt, ok bool) {
	if l.leadTo == nil {
		return lead, false
	}
	to := *l.leadTo
	if l.leadBack != nil && r.X+r.W < l.leadBack.X {
		to = *l.leadBack
	}
	from := Pt{clamp(to.X, r.X-3, r.X+r.W+3), clamp(to.Y, r.Y, r.Y+r.H)}
	if from.X == to.X {
		from.X = clamp(to.X, r.X+4, r.X+r.W-4)
	}
	return [2]Pt{from, to}, true
}

// leadEdge is the width of a leader's light edges, CSS px, both together.
const leadEdge = 2

// leader draws a thin line with a dot at its end.
func (b *builder) leader(l *label, r Rect) {
	lead, ok := l.line(r)
	if !ok {
		return
	}
	if dist(lead[0], lead[1]) > 3 {
		b.ink(b.s.Thin+leadEdge, Ground, lead[:]) // so that it stands out on dark water too
		b.ink(b.s.Thin, InkSoft, lead[:])
	}
	b.s.Leads = append(b.s.Leads, lead)
	b.over(Op{Kind: OpFill, Role: Ground, Pts: circle(lead[1], 1.8+leadEdge/2)})
	b.over(Op{Kind: OpFill, Role: Ink, Pts: circle(lead[1], 1.8)})
}
