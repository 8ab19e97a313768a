package headless

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"strings"

	"brinebench/sim/instrument"
	"brinebench/sim/plant"
	"brinebench/sim/scenario"
	"brinebench/sim/signature"
	"brinebench/sim/unit"
)

// confusable is the share of the belief in two causes that may go to the wrong one.
const confusable = 0.1

// Signatures runs "signatures SCENARIO.json [--trials N]": every fault lives on the
// installation of a scenario, and tables tell what each moves, which are confused,
// and how well they are named.
func Signatures(args []string, out io.Writer) error {
	fs := flag.NewFlagSet("signatures", flag.ContinueOnError)
	fs.SetOutput(out)
	trials := fs.Int("trials", 1000, "units of random severity to name")
	file, err := parse(fs, args)
	if err != nil {
		return err
	}
	if file == "" {
		return errors.New("no scenario file given; see signatures -h")
	}
	if *trials < 1 || *trials > 1e5 {
		return fmt.Errorf("--trials: %d is outside 1 to 100000", *trials)
	}
	data, err := readFile(file, scenario.MaxBytes)
	if err != nil {
		return err
	}
	f, err := scenario.Decode(file, data)
	if err != nil {
		return err
	}
	m, err := plant.New(f.Config())
	if err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	t := tables{out: out, lib: signature.Make(f, m, nil), causes: signature.Causes()}
	t.heading(f.Title)
	t.moves()
	t.naming(signature.Trials(f, m, *trials, trialSeed, nil))
	return t.err
}

// trialSeed is of severities and noise.
const trialSeed = 1

// tables writes them; the first error of writing stays.
type tables struct {
	out    io.Writer
	lib    *signature.Library
	causes []string
	err    error
}

func (t *tables) line(format string, args ...any) {
	if t.err == nil {
		_, t.err = fmt.Fprintln(t.out, strings.TrimRight(fmt.Sprintf(format, args...), " "))
	}
}

func (t *tables) heading(title string) {
	t.line("# Signatures: %s", title)
	t.line("")
	t.line("What every fault that this unit can have would show, by simulation: %d units, one for each fault and severity of", len(t.lib.Units))
	t.line("its grid and a sound one, each lived through the days before the call and through a regeneration.")
	t.line("Written by `brinebench signatures`; see `go test ./cmd/brinebench/internal/headless -run Signatures -update`.")
}

// moves is the table of what each fault moves.
func (t *tables) moves() {
	t.line("")
	t.line("## What moves")
	t.line("")
	t.line("For each fault, at the middle severity of its grid, the three readings that move most against the sound unit, with")
	t.line("the stage at which they do; looks into opened parts only where nothing else moves. σ is the spread of a reading,")
	t.line("3 %% for what the model does not know included; what is seen and not measured counts 6 σ.")
	t.line("")
	t.line("```")
	units := t.lib.Units
	for i := 0; i < len(units)-1; {
		n := 1
		for units[i+n].Cause == units[i].Cause {
			n++
		}
		u := i + n/2
		t.line("%-31s %s", fmt.Sprintf("%s %.3g", t.causes[units[u].Cause], units[u].Severity), t.movesOf(u))
		i += n
	}
	t.line("```")
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
	instrument.Span: {unit.Minute, " min"}, instrument.Weight: {unit.Pound, " lb"},
}

// naming are the tables of what is confused and how well each fault is named.
func (t *tables) naming(trials []signature.Trial) {
	t.line("")
	t.line("## What is confused")
	t.line("")
	t.line("Over %d units of random severity, none of them in the library, each lived through in full: the pairs of causes", len(trials))
	t.line("of which the wrong one gets more than a tenth of the belief in both, had both been as likely before; the share that")
	t.line("it gets; and the reading that separates them best.")
	t.pairs("With all instruments, parts opened", t.lib.Pairs(trials, signature.Everything, confusable))
	t.pairs("With the unit unopened", t.lib.Pairs(trials, signature.Unopened, confusable))
	opened := t.lib.Name(trials, signature.Everything, trialSeed)
	unopened := t.lib.Name(trials, signature.Unopened, trialSeed)
	t.line("")
	t.line("## How well they are named")
	t.line("")
	t.line("The same units by noisy readings: how many were named at once, and how many first or second.")
	t.line("")
	t.line("```")
	t.line("%-26s %6s   %13s   %13s", "", "units", "all", "unopened")
	for c := range opened {
		if opened[c].Trials > 0 {
			t.named(t.causes[c], opened[c], unopened[c])
		}
	}
	t.named("all", total(opened), total(unopened))
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
	part := func(n int, of signature.Naming) float64 { return 100 * float64(n) / float64(of.Trials) }
	t.line("%-26s %6d   %5.1f %5.1f %%   %5.1f %5.1f %%", cause, all.Trials,
		part(all.First, all), part(all.Second, all), part(unopened.First, unopened), part(unopened.Second, unopened))
}

func total(list []signature.Naming) (sum signature.Naming) {
	for _, n := range list {
		sum.Trials += n.Trials
		sum.First += n.First
		sum.Second += n.Second
	}
	return sum
}
