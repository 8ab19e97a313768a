package viewmodel

import (
	"math"
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

func (l *label) soft() *label { l.role = InkSoft; return l }

// place gives every lettering the first of its places that is free, long form
// before short; one that finds none is left out.
func (b *builder) place() {
	taken := append([]Rect(nil), b.solid...)
	stage := Rect{2, 1, b.s.W - 4, b.s.H - 2}
	for i := range b.labels {
		l := &b.labels[i]
		if r, text, ok := b.seat(l, taken, stage); ok {
			taken = append(taken, r.Inset(-2))
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

func (b *builder) seat(l *label, taken []Rect, stage Rect) (Rect, string, bool) {
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
			if l.must || fits(r, taken, stage) {
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

// leader draws a thin line with a dot from the near side of r to its target.
func (b *builder) leader(l *label, r Rect) {
	if l.leadTo == nil {
		return
	}
	to := *l.leadTo
	from := Pt{clamp(to.X, r.X-3, r.X+r.W+3), clamp(to.Y, r.Y, r.Y+r.H)}
	if from.X == to.X {
		from.X = clamp(to.X, r.X+4, r.X+r.W-4)
	}
	if math.Abs(dist(from, to)) > 3 {
		b.ink(b.s.Thin, InkSoft, []Pt{from, to})
	}
	b.over(Op{Kind: OpFill, Role: Ink, Pts: circle(to, 1.8)})
}
