package headless

import (
	"errors"
	"flag"
	"fmt"
	"io"

	"brinebench/sim/plant"
	"brinebench/sim/scenario"
	"brinebench/sim/signature"
)

// confusable is the share of the belief in two causes that may go to the wrong one.
const confusable = 0.1

// Signatures runs "signatures SCENARIO.json [--trials N] [--brief] [--readings]":
// every fault lives on the installation of a scenario, and tables tell what each
// moves, which are confused, and how well they are named; or every reading is
// written.
func Signatures(args []string, out io.Writer) error {
	fs := flag.NewFlagSet("signatures", flag.ContinueOnError)
	fs.SetOutput(out)
	trials := fs.Int("trials", 1000, "units of random severity to name")
	brief := fs.Bool("brief", false, "tell what moves of a few faults only, and no names by fault")
	readings := fs.Bool("readings", false, "write every reading of every unit instead, as CSV")
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
	site, err := installationOf(file)
	if err != nil {
		return err
	}
	if *readings {
		return writeReadings(out, signature.Make(site.file, site.model, nil))
	}
	return site.study(*trials).write(out, *brief)
}

// trialSeed is of severities and noise.
const trialSeed = 1

// installation is that of a scenario.
type installation struct {
	file  *scenario.File
	model *plant.Model // of the file's plant
}

func installationOf(file string) (*installation, error) {
	data, err := readFile(file, scenario.MaxBytes)
	if err != nil {
		return nil, err
	}
	f, err := scenario.Decode(file, data)
	if err != nil {
		return nil, err
	}
	m, err := plant.New(f.Config())
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	return &installation{f, m}, nil
}

// study is what comes out for one installation.
type study struct {
	title            string
	lib              *signature.Library
	trials           []signature.Trial
	opened, unopened verdict
}

// verdict is how well one kit of readings serves.
type verdict struct {
	pairs []signature.Pair
	named []signature.Naming
}

func (x *installation) study(trials int) *study {
	s := &study{title: x.file.Title, lib: signature.Make(x.file, x.model, nil)}
	s.trials = signature.Trials(x.file, x.model, trials, trialSeed, nil)
	s.judge()
	return s
}

func (s *study) judge() {
	of := func(kit signature.Kit) verdict {
		return verdict{s.lib.Pairs(s.trials, kit, confusable), s.lib.Name(s.trials, kit, trialSeed)}
	}
	s.opened, s.unopened = of(signature.Everything), of(signature.Unopened)
}

func (s *study) write(out io.Writer, brief bool) error {
	t := tables{out: out, study: s, causes: signature.Causes()}
	t.heading()
	every := 1
	if brief {
		every = sampled
	}
	t.moves(every)
	t.confused()
	t.naming(!brief)
	return t.err
}
