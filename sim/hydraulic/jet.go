package hydraulic

// evaluateGain finds the error of the gain. At its lowest pressure the throat
// cavitates: the mixing tube then gains less than its flows would give, just so
// much that the throat stays there, but never less than nothing. The three cases
// make one condition, each part of which falls as the gain rises:
// min(gain of the flows − gain, max(throat − vapour pressure, −gain)) = 0.
func (w *solver) evaluateGain() {
	e, l := &w.links[w.jet], &w.laws[w.jet]
	w.fullGain, w.jetPull[0], w.jetPull[1] = l.gain(w.q[e.Nozzle], w.q[e.Suction])
	w.gainMiss = w.fullGain - w.gain
	if l.VapourPa < 0 && !w.fixed[e.From] {
		w.gainMiss = min(w.gainMiss, max(w.p[e.From]-l.VapourPa, -w.gain))
	}
}

// stepGain borders the linear system with the gain as one more unknown.
func (w *solver) stepGain() {
	e, l := &w.links[w.jet], &w.laws[w.jet]
	clear(w.perGain)
	ends := w.row[w.jet]
	w.perGain[ends[0]] = -w.g[w.jet]
	w.perGain[ends[1]] = w.g[w.jet]
	w.perGain[len(w.node)] = 0
	w.plan.solve(w.cond, w.pivot, w.perGain)

	expected := w.fullGain - w.gain
	feedback := 0.0
	for i, link := range [2]int{e.Nozzle, e.Suction} {
		feed := w.row[link]
		expected += float64(w.jetPull[i] * w.dq[link])
		feedback += float64(w.jetPull[i] * w.g[link] * (w.perGain[feed[0]] - w.perGain[feed[1]]))
	}
	d := expected / max(1-feedback, leastLoop)
	if l.VapourPa < 0 && !w.fixed[e.From] {
		k := ends[0]
		d = min(d, max((l.VapourPa-w.p[e.From]-w.dp[k])/w.perGain[k], -w.gain))
	}
	w.gain += d
	for k := range w.node {
		w.dp[k] += float64(d * w.perGain[k])
	}
	for i, row := range w.row {
		drive := w.perGain[row[0]] - w.perGain[row[1]]
		if i == w.jet {
			drive++
		}
		w.dq[i] += float64(w.g[i] * d * drive)
	}
}
