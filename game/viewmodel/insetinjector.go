package viewmodel

import (
	"fmt"
	"math"
)

// off tells whether a share of a part's right size is another size.
func off(scale float64) bool { return scale < 0.98 || scale > 1.02 }

func (b *builder) insetInjector(r Rect) {
	c, size := b.opt.Inside.Condition, b.opt.small(b.s)
	scale := c.InjectorScale
	if off(scale) {
		r = b.caption(r, Wrong, fmt.Sprintf("the unit's plate: %.2f and %.2f mm", b.set.NozzleMM, b.set.ThroatMM), fmt.Sprintf("plate: %.2f, %.2f mm", b.set.NozzleMM, b.set.ThroatMM))
	} else {
		r = b.caption(r, InkSoft, "sizes as on the unit's plate")
	}
	foot := 2.4 * size
	h := (r.H - foot) / 2
	y, x := r.Y+h, func(t float64) float64 { return r.X + t*r.W }
	b.block(Rect{r.X, y - h, r.W, 2 * h}.corners())
	in, tip, throat := h*0.55, h*0.15*scale, h*0.26*scale // half widths
	b.hollow([]Pt{                                        // suction chamber, throat, diffuser
		{x(0.30), y - h*0.72},
		{x(0.47), y - h*0.72},
		{x(0.56), y - throat},
		{x(0.70), y - throat},
		{x(1), y - h*0.6},
		{x(1), y + h*0.6},
		{x(0.70), y + throat},
		{x(0.56), y + throat},
		{x(0.47), y + h*0.72},
		{x(0.30), y + h*0.72},
	})
	b.hollow(Rect{x(0.36), y - h, r.W * 0.08, h * 0.29}.corners()) // suction port
	b.nozzleInset(x, y, h, in, tip, c.NozzleWear)
	b.grit(x(0.38), x(0.495), y, tip, tip, c.NozzleOpen)
	if c.NozzleOpen < 0.995 {
		b.grit(x(0.30), x(0.38), y, tip+(in-tip)*0.5, tip, c.NozzleOpen)
	}
	b.grit(x(0.56), x(0.70), y, throat, throat, c.ThroatOpen)
	b.washedOut(x, y, throat, c.ThroatWear)
	low := y + h + 0.6*size
	b.span(x(0), x(0.50), low)
	b.span(x(0.56), x(0.70), low)
	nozzle, throatIs := "nozzle %.2f mm", "throat %.2f mm"
	if b.opt.Measure("nozzle 0.00 mm", size, false) > 0.46*r.W {
		nozzle, throatIs = "%.2f mm", "%.2f mm"
	}
	b.note(fmt.Sprintf(nozzle, b.set.NozzleMM*scale), x(0.25), low+0.9*size)
	b.note(fmt.Sprintf(throatIs, b.set.ThroatMM*scale), x(0.75), low+0.9*size)
}

// nozzleInset draws the nozzle; wear, 0..1, has cut its bore wider.
func (b *builder) nozzleInset(x func(float64) float64, y, h, in, tip, wear float64) {
	b.block([]Pt{{x(0), y - h*0.8}, {x(0.34), y - h*0.8}, {x(0.50), y - tip*2.1}, {x(0.50), y + tip*2.1}, {x(0.34), y + h*0.8}, {x(0), y + h*0.8}})
	b.hollow([]Pt{{x(0), y - in}, {x(0.22), y - in}, {x(0.38), y - tip}, {x(0.50), y - tip}, {x(0.50), y + tip}, {x(0.38), y + tip}, {x(0.22), y + in}, {x(0), y + in}})
	if wear < 0.02 {
		return
	}
	wide := tip * (1 + 0.95*wear)
	for _, side := range []float64{-1, 1} {
		edge := []Pt{{x(0.36), y + side*tip}, {x(0.41), y + side*(tip+0.5*(wide-tip))}, {x(0.44), y + side*(tip+0.4*(wide-tip))}, {x(0.47), y + side*wide*0.96}, {x(0.50), y + side*wide}}
		b.fill(Paper, append(append([]Pt{}, edge...), Pt{x(0.50), y + side*tip*0.9}, Pt{x(0.36), y + side*tip*0.9}))
		b.wrong(edge...)
	}
}

// washedOut roughens the mouth of the throat by its wear, 0..1.
func (b *builder) washedOut(x func(float64) float64, y, throat, wear float64) {
	if wear < 0.02 {
		return
	}
	deep := throat * 0.9 * math.Sqrt(wear)
	for _, side := range []float64{-1, 1} {
		edge := []Pt{{x(0.52), y + side*(throat*1.9+deep*0.3)}}
		for i := range 6 {
			t := float64(i) / 5
			edge = append(edge, Pt{x(0.545 + 0.11*t), y + side*(throat+deep*(1-t)*(0.55+0.6*Scatter(i, 41+int(side))))})
		}
		edge = append(edge, Pt{x(0.67), y + side*throat})
		b.fill(Paper, append(append([]Pt{}, edge...), Pt{x(0.55), y + side*throat*0.8}))
		b.wrong(edge...)
	}
}

// span marks a stretch below a drawing, x0 to x1 at height y.
func (b *builder) span(x0, x1, y float64) {
	b.ink(b.s.Thin, Ink, []Pt{{x0, y - 4}, {x0, y}, {x1, y}, {x1, y - 4}})
}

func (b *builder) insetScreen(r Rect) {
	c, rad := r.Centre(), math.Min(r.W, r.H)*0.46
	b.top(Shell, circle(c, rad), b.s.Heavy)
	b.top(Paper, circle(c, rad*0.88), b.s.Thin)
	const n = 13
	step := 2 * rad * 0.88 / n
	k := 0
	for i := range n {
		for j := range n {
			p := c.Add((float64(i)-n/2)*step, (float64(j)-n/2)*step)
			if dist(p, c) > rad*0.82 {
				continue
			}
			k++
			if Scatter(k, 23) > b.opt.Inside.Condition.ScreenOpen {
				b.fill(Grit, circle(p, step*(0.36+0.2*Scatter(k, 29))))
			}
		}
	}
	for i := range n + 1 {
		d := (float64(i) - n/2.0) * step
		if l := rad*rad*0.774 - d*d; l > 0 {
			l = math.Sqrt(l)
			b.ink(b.s.Thin, Ink, []Pt{c.Add(d, -l), c.Add(d, l)})
			b.ink(b.s.Thin, Ink, []Pt{c.Add(-l, d), c.Add(l, d)})
		}
	}
}
