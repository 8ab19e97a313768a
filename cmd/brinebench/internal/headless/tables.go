package headless

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"

	"brinebench/sim/instrument"
	"brinebench/sim/signature"
	"brinebench/sim/unit"
)

// sampled is of how many faults a brief study tells what one moves.
const sampled = 12

// tables writes a study; the first error of writing stays.
type tables struct {
	*study
	out    io.Writer
	causes []string
	err    error
}

func (t *tables) line(format string, args ...any) {
	if t.err == nil {
		_, t.err = fmt.Fprintln(t.out, strings.TrimRight(fmt.Sprintf(format, args...), " "))
	}
}

func (t *tables) heading() {
	t.line("# Signatures: %s", t.title)
	t.line("")
	t.line("What every fault that this unit can have would show, by simulation: %d units, one for each fault and severity of", len(t.lib.Units))
	t.line("its grid and a sound one, each lived through the days before the call and through a regeneration.")
}

// moves is the table of what one in so many faults moves.
func (t *tables) moves(every int) {
	t.line("")
	t.line("## What moves")
	t.line("")
	if every > 1 {
		t.line("For a sample of the faults, each at the middle severity of its grid, the three readings that move most.")
	} else {
		t.line("For each fault, at the middle severity of its grid, the three readings that move most against the sound unit, with")
		t.line("the stage at which they do; looks into opened parts only where nothing else moves. σ is the spread of a reading,")
		t.line("3 %% for what the model does not know included; what is seen and not measured counts 6 σ.")
	}
	t.line("")
	t.line("```")
	for _, u := range middles(t.lib.Units, every) {
		t.line("%-31s %s", fmt.Sprintf("%s %.3g", t.causes[t.lib.Units[u].Cause], t.lib.Units[u].Severity), t.movesOf(u))
	}
	t.line("```")
}

// middles are the units of middle severity of one in so many faults.
func middles(units []signature.Unit, every int) (list []int) {
	for i, k := 0, 0; i < len(units)-1; k++ {
		n := 1
		for units[i+n].Cause == units[i].Cause {
			n++
		}
		if k%every == 0 {
			list = append(list, i+n/2)
		}
		i += n
	}
	return list
}

func (t *tables) movesOf(u int) string {
	var told []string
	for _, m := range t.lib.Moves(u, 3) {
		in := &instrument.All()[m.In]
		told = append(told, fmt.Sprintf("%s in %s: %s → %s (%.0f σ)", in.ID, m.Stage, inTrade(in, m.Sound), inTrade(in, m.Faulty), m.Sigmas))
	}
	return strings.Join(told, "; ")
}

// inTrade is a reading in the units of the trade.
func inTrade(in *instrument.Instrument, r instrument.Reading) string {
	if r.Seen != "" {
		return fmt.Sprintf("%q", r.Seen)
	}
	u := tradeUnits[in.Quantity]
	return fmt.Sprintf("%.3g", r.Value/u.si+0) + u.name
}

var tradeUnits = map[instrument.Quantity]struct {
	si   float64
	name string
}{
	instrument.Hardness: {unit.GPG, " gpg"}, instrument.Pressure: {unit.PSI, " psi"}, instrument.Flow: {unit.GPM, " gpm"},
	instrument.Length: {unit.Inch, " in"}, instrument.Fraction: {0.01, " %"}, instrument.Specific: {0.1, " mS/cm"},
	instrument.Warmth: {1, " °C"}, instrument.Content: {1e-3, " mg/L"}, instrument.Count: {1, ""},
	instrument.Span: {unit.Minute, " min"}, instrument.Weight: {unit.Pound, " lb"}, instrument.Angle: {1, "°"},
}

// confused tells which faults are taken for another.
func (t *tables) confused() {
	t.line("")
	t.line("## What is confused")
	t.line("")
	t.line("Over %d units of random severity, none of them in the library, each lived through in full: the pairs of causes", len(t.trials))
	t.line("of which the wrong one gets more than a tenth of the belief in both, had both been as likely before; the share that")
	t.line("it gets; and the reading that separates them best.")
	t.pairs("With all instruments, parts opened", t.opened.pairs)
	t.pairs("With the unit unopened", t.unopened.pairs)
}

// naming tells how well the faults are named: all, and each by itself.
func (t *tables) naming(each bool) {
	t.line("")
	t.line("## How well they are named")
	t.line("")
	t.line("The same units by noisy readings: how many were named at once, and how many first or second.")
	t.line("")
	t.line("```")
	t.line("%-26s %6s   %13s   %13s", "", "units", "all", "unopened")
	for c, n := range t.opened.named {
		if each && n.Trials > 0 {
			t.named(t.causes[c], n, t.unopened.named[c])
		}
	}
	t.named("all", total(t.opened.named), total(t.unopened.named))
	t.line("```")
}

func (t *tables) pairs(title string, pairs []signature.Pair) {
	t.line("")
	t.line("%s: %d.", title, len(pairs))
	t.line("")
	t.line("```")
	for _, p := range pairs {
		in := &instrument.All()[p.In]
		t.line("%-26s %-26s %3.0f %%  %s in %s", t.causes[p.A], t.causes[p.B], 100*p.Share, in.ID, p.Stage)
	}
	t.line("```")
}

func (t *tables) named(cause string, all, unopened signature.Naming) {
	t.line("%-26s %6d   %5.1f %5.1f %%   %5.1f %5.1f %%", cause, all.Trials,
		percent(all.First, all), percent(all.Second, all), percent(unopened.First, unopened), percent(unopened.Second, unopened))
}

func percent(n int, of signature.Naming) float64 { return 100 * float64(n) / float64(of.Trials) }

func total(list []signature.Naming) (sum signature.Naming) {
	for _, n := range list {
		sum.Trials += n.Trials
		sum.First += n.First
		sum.Second += n.Second
	}
	return sum
}

// writeReadings writes what every unit of a library shows of every instrument at
// every stage, one reading a line.
func writeReadings(out io.Writer, lib *signature.Library) error {
	w, causes := csv.NewWriter(out), signature.Causes()
	w.Write([]string{"cause", "severity", "stage", "instrument", "reading"})
	for i, u := range lib.Units {
		for stage := range signature.NumStages {
			for k := range instrument.All() {
				if in := &instrument.All()[k]; signature.Everything.Takes(stage, in) {
					r := lib.Signatures[i][stage][k]
					shows := r.Seen
					if shows == "" {
						shows = inTrade(in, r)
					}
					w.Write([]string{causes[u.Cause], fmt.Sprintf("%g", u.Severity), stage.String(), in.ID, shows})
				}
			}
		}
	}
	w.Flush()
	return w.Error()
}
