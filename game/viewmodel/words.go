package viewmodel

import (
	"math"
	"strings"

	"brinebench/game/say"
	"brinebench/sim"
)

// spoken writes the letterings in the language spoken. The code has them in English,
// as the engine has its texts, and measures them as they will be read.
func (s *Scene) spoken() {
	for _, list := range [][]Placed{s.Labels, s.Plates, s.CardText} {
		for i := range list {
			list[i].Text = say.Sim(list[i].Text)
		}
	}
}

// controller draws the controller's face: station, time left, clock.
func (b *builder) controller(x, y, w, h float64) {
	k := b.opt.textSize(b.s) / TextNormal
	h = math.Min(h, 116*k/b.u)
	b.top(Paper, roundRect(b.rect(x, y, w, h), 6*b.u), b.s.Heavy)
	b.s.Face = b.rect(x, y, w, h).Inset(b.s.Heavy + 2)
	b.hit(sim.PartController, x, y, w, h)
	b.keep(x, y, w, h)
	left, room := x+10, (w-20)*b.u
	line := func(kind ReadoutKind, dy, size float64, bold bool, role Role, widest string) {
		b.readout(Readout{Kind: kind, At: b.p(left, y).Add(0, dy*k), Size: math.Max(TextSmall, size*k), Bold: bold, Role: role, MaxW: room, Face: true}, widest)
	}
	line(ReadStation, 22, TextLarge, true, Ink, "Backwash")
	station := &b.s.Readouts[len(b.s.Readouts)-1]
	for i := range b.set.Stations {
		lines, size := station.Lines(arrow+say.Sim(b.set.Stations[i].Name), b.opt.Measure)
		for _, l := range lines {
			station.Short = station.Short || b.opt.Measure(l, size, true) > room
		}
	}
	b.s.Lamp = b.p(x+w-16, y).Add(0, 20*k)
	p := b.p(left, y)
	b.s.Progress = Rect{p.X, p.Y + 41*k, room, 4 * k}
	line(ReadRemaining, 56, TextNormal, false, Ink, say.Text("canvas.left", b.opt.Units.Volume(46.7)))
	line(ReadClock, 76, TextNormal, false, Ink, say.Text("canvas.clock", b.opt.Units.Clock(12*3600)))
	line(ReadNext, 96, TextSmall, false, InkSoft, say.Text("canvas.next", 12))
	next := &b.s.Readouts[len(b.s.Readouts)-1]
	next.Short = b.opt.Measure(say.Text("canvas.regenerates", 12), next.Size, false) > room
}

// The headline of a tall picture: its lettering and margin, CSS px.
const (
	headSize   = 14.0
	headMargin = 8.0
)

// headRoom is the width that each side of the headline may take, and the height of
// the line, CSS px: two lines where the longest words do not fit in one.
func (b *builder) headRoom() (left, right, h float64) {
	clock := b.opt.Units.Clock(12 * 3600)
	usual := b.opt.Measure(say.Text("canvas.left", "1 h 59 min")+" · "+clock, b.opt.small(b.s), false)
	longest := b.opt.Measure(say.Text("canvas.left", "1 h 59 min")+" · "+clock+" "+say.Text("canvas.not-set"), b.opt.small(b.s), false)
	for i := range b.set.Stations {
		left = math.Max(left, b.opt.Measure(arrow+say.Sim(b.set.Stations[i].Name), headSize, true))
	}
	free := b.s.W - 3*headMargin
	if left+longest <= free {
		return left, longest, 24
	}
	return free - usual, usual, 31
}

// headline puts the controller's words over a tall picture.
func (b *builder) headline(left, right, h float64) {
	at := func(x float64) Pt { return Pt{x, h / 2} }
	b.readout(Readout{Kind: ReadStation, At: at(headMargin), Size: headSize, Bold: true, Role: Ink, MaxW: left, Face: true}, say.Text("canvas.between"))
	b.readout(Readout{Kind: ReadRemaining, At: at(b.s.W - headMargin), Align: 1, Size: b.opt.small(b.s), Role: Ink, MaxW: right, Face: true}, say.Text("canvas.left", "58:00 min")+" · "+b.opt.Units.Clock(12*3600))
	b.s.Lamp = at(headMargin + b.opt.Measure(say.Text("canvas.alarm"), headSize, true) + 14)
	b.s.Face = Rect{0, 0, b.s.W, h}
	b.hit(sim.PartController, 0, 0, vw(b), h/b.u)
	b.keep(0, 0, vw(b), h/b.u)
}

// The chart ends so far above the picture's foot, and may stand so much higher than it
// likes to, drawing units.
const (
	chartFoot = 64
	chartRise = 40
)

// chart draws the drum's surface unrolled, x and y the corner of its rows.
func (b *builder) chart(x, y, w float64) {
	row := math.Max(15, 1.2*b.opt.small(b.s)/b.u)
	h := row * float64(sim.NumSeats)
	nameW := 0.0
	for _, s := range sim.SeatRow {
		nameW = math.Max(nameW, b.opt.Measure(s.String(), b.opt.small(b.s), false))
	}
	x += nameW/b.u + 8
	w -= nameW/b.u + 8
	rows := b.stationRows(w * b.u)
	if rows == 3 {
		y += stationRow * b.opt.small(b.s) / b.u
	}
	r := b.rect(x, y, w, h)
	foot := b.s.H - chartFoot*b.u
	r.Y -= clamp(r.Y+r.H-foot, 0, chartRise*b.u) // where it is short of room it stands higher
	if r.W < 60 || r.Y+r.H > foot {
		return
	}
	b.s.Chart = Chart{Box: r, RowH: row * b.u}
	b.over(Op{Kind: OpFill, Role: Paper, Pts: r.corners()})
	for _, st := range b.set.Stations {
		sx := r.X + r.W*st.AngleDeg/360
		b.ink(b.s.Thin, Faint, []Pt{{sx, r.Y}, {sx, r.Y + r.H}})
	}
	for i, s := range sim.SeatRow {
		ry := r.Y + (float64(i)+0.5)*row*b.u
		b.lobes(s, r, ry, row*b.u)
		b.s.Labels = append(b.s.Labels, Placed{Text: s.String(), X: r.X - 7 - b.opt.Measure(s.String(), b.opt.small(b.s), false), Y: ry - b.opt.small(b.s)*0.62, Size: b.opt.small(b.s), Role: Ink})
	}
	b.outline(r.corners(), b.s.Thin)
	b.stationNames(r, rows)
	b.solid = append(b.solid, Rect{r.X - nameW - 18, r.Y - 1, r.W + nameW + 20, r.H + 2})
}

// stationRow is the height of a row of station names, relative to the lettering.
const stationRow = 1.45

// stationRows is how many rows the station names over a chart w CSS px wide
// need; 0 where they have no room.
func (b *builder) stationRows(w float64) int {
	size := b.opt.small(b.s)
	switch {
	case w < 10*size:
		return 0
	case w < 14*size:
		return 3
	}
	return 2
}

// stationNames writes the stations over the chart, each at its line.
func (b *builder) stationNames(r Rect, rows int) {
	if rows == 0 {
		return
	}
	size := b.opt.small(b.s)
	for i, st := range b.set.Stations {
		x := r.X + r.W*st.AngleDeg/360
		up := size*0.8 + stationRow*size*float64(i%rows)
		b.ink(b.s.Thin, Faint, []Pt{{x, r.Y - up - size*0.4}, {x, r.Y}})
	}
	for i, st := range b.set.Stations {
		p := Pt{r.X + r.W*st.AngleDeg/360 + 3, r.Y - size*0.8 - stationRow*size*float64(i%rows) - size*0.6}
		text := shortStation(st)
		w := b.opt.Measure(text, size, false)
		b.over(Op{Kind: OpFill, Role: Ground, Pts: Rect{p.X - 1, p.Y, w + 2, size * 1.2}.corners()})
		b.s.Labels = append(b.s.Labels, Placed{Text: text, X: p.X, Y: p.Y, Size: size, Role: InkSoft})
		b.solid = append(b.solid, Rect{p.X, p.Y, w, size * 1.2})
	}
}

// hidden is the name of positions that are not to be told.
const hidden = "?"

func shortStation(st sim.Station) string {
	if st.Name == hidden {
		return st.Name
	}
	switch st.ID {
	case "brine":
		return "brine"
	case "fast-rinse":
		return "rinse"
	}
	return st.ID
}

// lobes draws the lobes of one track in the unrolled chart.
func (b *builder) lobes(s sim.Seat, r Rect, y, row float64) {
	lobe := &b.set.Lobe[s]
	n := len(lobe)
	x := func(i int) float64 { return r.X + r.W*float64(i)/float64(n) }
	b.ink(b.s.Thin, Faint, []Pt{{r.X, y + row*0.3}, {r.X + r.W, y + row*0.3}})
	for i := 0; i < n; {
		if lobe[i] <= 0.02 {
			i++
			continue
		}
		pts := []Pt{{x(i), y + row*0.3}}
		for ; i < n && lobe[i] > 0.02; i++ {
			pts = append(pts, Pt{x(i), y + row*(0.3-0.6*lobe[i])})
		}
		pts = append(pts, Pt{x(i), pts[len(pts)-1].Y}, Pt{x(i), y + row*0.3})
		b.over(Op{Kind: OpFill, Role: InkSoft, Pts: pts})
		b.ink(b.s.Thin, Ink, pts)
	}
}

// The places in the legend of a wide picture at the smallest size of its words, CSS px.
const (
	legendH      = 76.0 // all of it
	legendLine   = 18.0 // from one line of samples to the next
	legendSample = 32.0 // from a sample to its word
	legendX      = 10.0 // in drawing units
	legendApart  = 8.0  // from the drain's funnel
)

// legendTop is where the legend of a wide picture begins above the floor, beside the
// funnel at drain, all in drawing units; rows is how many lines its samples take.
func (b *builder) legendTop(floor, drain float64) (y float64, rows int) {
	k, rows := b.opt.small(b.s)/TextSmall, 1
	if b.s.Layers.grains() && b.p(legendX, 0).X+b.airAt(k)+legendSample*k+b.opt.Measure("air", b.opt.small(b.s), false) > b.p(drain-funnelW/2, 0).X-legendApart {
		rows = 2
	}
	return floor - (legendH+legendLine*float64(rows-1))*k/b.u, rows
}

// airAt is where the sample of air stands beside that of brine, CSS px.
func (b *builder) airAt(k float64) float64 {
	return math.Max(78*k, 42*k+b.opt.Measure("brine", b.opt.small(b.s), false))
}

// legendWide explains the colours above the floor, beside the funnel at drain, in drawing
// units.
func (b *builder) legendWide(floor, drain float64) {
	y, rows := b.legendTop(floor, drain)
	p := b.p(legendX, y)
	k := b.opt.small(b.s) / TextSmall
	w := math.Min(170*k, 196*b.u)
	if scale, ok := b.scale(); ok {
		b.scaleBar(Rect{p.X, p.Y + 16*k, w, 10 * k})
		title := scale.title + ", " + scale.unit
		if b.opt.Measure(title, b.opt.small(b.s), false) > b.p(drain-funnelW/2, 0).X-p.X {
			plain, _, _ := strings.Cut(scale.unit, " ") // not as what it is counted
			title = scale.title + ", " + plain
		}
		b.word(title, p.X, p.Y, 0, InkSoft)
		b.word(strings.TrimSpace("0 "+scale.low), p.X, p.Y+29*k, 0, Ink)
		b.word(strings.TrimSpace(scale.end+" "+scale.high), p.X+w, p.Y+29*k, 1, Ink)
	} else {
		b.word("hardness: not shown", p.X, p.Y+29*k, 0, InkSoft)
	}
	b.solid = append(b.solid, Rect{p.X - 2, p.Y - 2, w + 4, (70 + legendLine*float64(rows-1)) * k})
	if !b.s.Layers.grains() {
		return
	}
	b.s.Legend.Brine = Rect{p.X, p.Y + 50*k, 26 * k, 13 * k}
	b.sampleBox(b.s.Legend.Brine)
	b.word("brine", p.X+legendSample*k, p.Y+50*k, 0, Ink)
	x, y := p.X+b.airAt(k), p.Y+50*k
	if rows > 1 {
		x, y = p.X, y+legendLine*k
	}
	b.s.Legend.Air = Rect{x, y, 26 * k, 13 * k}
	b.sampleBox(b.s.Legend.Air)
	b.word("air", x+legendSample*k, y, 0, Ink)
}

// legendTall explains the colours in one line centred on y.
func (b *builder) legendTall(y float64) {
	p := b.p(10, y)
	top := p.Y - b.opt.small(b.s)*0.62
	if scale, ok := b.scale(); ok {
		low, high := scale.low, scale.high+": "+scale.end+" "+scale.unit
		if low == "" {
			low, high = scale.title+" 0", scale.end+" "+scale.unit
		}
		b.word(low, p.X, top, 0, Ink)
		x := p.X + b.opt.Measure(low, b.opt.small(b.s), false) + 5
		b.scaleBar(Rect{x, p.Y - 5, 44, 10})
		b.word(high, x+49, top, 0, Ink)
	} else {
		b.word("hardness: not shown", p.X, top, 0, InkSoft)
	}
	if !b.s.Layers.grains() {
		return
	}
	x := b.s.W - 8
	sample := func(word string) Rect {
		b.word(word, x, top, 1, Ink)
		x -= b.opt.Measure(word, b.opt.small(b.s), false) + 27
		return Rect{x, p.Y - 6, 22, 12}
	}
	b.s.Legend.Air = sample("air")
	b.sampleBox(b.s.Legend.Air)
	x -= 8
	b.s.Legend.Brine = sample("brine")
	b.sampleBox(b.s.Legend.Brine)
}

// colourScale is what the colours of the water stand for.
type colourScale struct{ title, unit, low, high, end string }

// scale returns what the legend explains, and whether there is anything.
func (b *builder) scale() (c colourScale, ok bool) {
	switch {
	case b.s.Layers.Pressure:
		_, unit := b.opt.Units.Scale(sim.UnitPressure)
		return colourScale{title: say.Sim("pressure"), unit: unit, end: numberText(b.s.TopPa, b.opt.Units)}, true
	case b.s.Veiled || b.s.Layers.Plain:
		return c, false
	}
	end, unit := b.hardnessScale()
	return colourScale{say.Sim("hardness"), unit, say.Sim("soft"), say.Sim("hard"), end}, true
}

func (b *builder) sampleBox(r Rect) {
	b.over(Op{Kind: OpScale, Value: 0.0, Pts: r.corners()})
	b.outline(r.corners(), b.s.Thin)
}

func (b *builder) scaleBar(r Rect) {
	const n = 32
	for i := range n {
		q := Rect{r.X + r.W*float64(i)/n, r.Y, r.W/n + 0.5, r.H}
		b.over(Op{Kind: OpScale, Value: float64(i) / (n - 1), Pts: q.corners()})
	}
	b.outline(r.corners(), b.s.Thin)
}

// word is a small lettering at a fixed place, (x, y) its top.
func (b *builder) word(text string, x, y, align float64, role Role) {
	size := b.opt.small(b.s)
	w := b.opt.Measure(text, size, false)
	x -= align * w
	b.s.Labels = append(b.s.Labels, Placed{Text: text, X: x, Y: y, Size: size, Role: role})
	b.solid = append(b.solid, Rect{x - 2, y - 1, w + 4, size*1.2 + 2})
}
