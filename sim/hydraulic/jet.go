package hydraulic

// evaluateGain finds the error of the gain. At its lowest pressure the throat
// cavitates: the mixing tube then gains less than its flows would give, just so
// much that the throat stays there, but never less than nothing. The three cases
// make one condition, each part of which falls as the gain rises:
// min(gain of the flows − gain, max(throat − vapour pressure, −gain)) = 0.
func (w *solver) evaluateGain() {
	e, l := &w.links[w.jet], &w.laws[w.jet]
	w.fullGain, w.jetPull[0], w.jetPull[1] = l.gain(w.ducts[e.Nozzle].q, w.ducts[e.Suction].q)
	w.gainMiss = w.fullGain - w.gain
	if throat := int(w.ties[w.jet].from); l.VapourPa < 0 && throat < w.free {
		w.gainMiss = lesser(w.gainMiss, greater(w.rows[throat].p-l.VapourPa, -w.gain))
	}
}

// stepGain borders the linear system with the gain as one more unknown: it takes
// that step and adds to those of the pressures, and to the error of the jet's law,
// what it brings about.
func (w *solver) stepGain() {
	e, l := &w.links[w.jet], &w.laws[w.jet]
	expected := w.fullGain - w.gain
	feedback := 0.0
	for i := range w.jetPull {
		link := e.Nozzle
		if i == 1 {
			link = e.Suction
		}
		feed, d := &w.ties[link], &w.ducts[link]
		from, to := &w.rows[feed.from], &w.rows[feed.to]
		expected += float64(w.jetPull[i] * d.g * (d.miss + from.dp - to.dp))
		feedback += float64(w.jetPull[i] * d.g * (from.perGain - to.perGain))
	}
	step := expected / greater(1-feedback, leastLoop)
	if k := int(w.ties[w.jet].from); l.VapourPa < 0 && k < w.free {
		throat := &w.rows[k]
		step = lesser(step, greater((l.VapourPa-throat.p-throat.dp)/throat.perGain, -w.gain))
	}
	w.setGain(w.gain + step)
	for k := range w.rows {
		r := &w.rows[k]
		r.dp += float64(step * r.perGain)
	}
	w.ducts[w.jet].miss += step
}

// lesser and greater are min and max, which would be calls in WebAssembly. What is
// not a number stays so, except that b of greater must be one.
func lesser(a, b float64) float64 {
	if b < a || b != b {
		return b
	}
	return a
}

func greater(a, b float64) float64 {
	if b > a {
		return b
	}
	return a
}
