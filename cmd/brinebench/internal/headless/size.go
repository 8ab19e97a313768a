package headless

import (
	"errors"
	"flag"
	"fmt"
	"io"

	"brinebench/sim/marking"
	"brinebench/sim/sizing"
)

// sizeFlags are what "size" takes.
type sizeFlags struct {
	seed                  int64
	si, outcome           bool
	worksheet, key, sheet bool
	answerFile            string
	system                sizing.System
}

// Size runs "size JOB.json | --seed N": the worked sizing of a job sheet, of a file or
// drawn, as text; marks of an answer, what comes of it, a worksheet and its key.
func Size(args []string, out io.Writer) error {
	fs := flag.NewFlagSet("size", flag.ContinueOnError)
	fs.SetOutput(out)
	var f sizeFlags
	fs.Int64Var(&f.seed, "seed", -1, "draw the job sheet from a `number`, 0 or more, instead of reading a file")
	fs.BoolVar(&f.si, "si", false, "show SI units instead of US ones")
	fs.BoolVar(&f.outcome, "outcome", false, "let the worked unit, and that by the rule of thumb, live in the house for 90 days")
	fs.StringVar(&f.answerFile, "answer", "", "mark the answer in this `file`, and let its unit live in the house for 90 days")
	fs.BoolVar(&f.worksheet, "worksheet", false, "print a worksheet with blanks and tables instead")
	fs.BoolVar(&f.key, "key", false, "print the key to the worksheet instead")
	fs.BoolVar(&f.sheet, "job", false, "print the job sheet as a file instead")
	file, err := parse(fs, args)
	if err != nil {
		return err
	}
	if f.si {
		f.system = sizing.SI
	}
	job, err := f.job(file, isSet(fs, "seed"))
	if err != nil {
		return err
	}
	return f.print(out, job)
}

// isSet reports whether a flag was given.
func isSet(fs *flag.FlagSet, name string) (set bool) {
	fs.Visit(func(f *flag.Flag) { set = set || f.Name == name })
	return set
}

func (f *sizeFlags) job(file string, drawn bool) (*sizing.Job, error) {
	switch {
	case drawn && file != "":
		return nil, errors.New("a job sheet is either read from a file or drawn with --seed")
	case drawn && f.seed < 0:
		return nil, fmt.Errorf("--seed: %d is below 0", f.seed)
	case drawn:
		return sizing.Drawn(uint64(f.seed)), nil
	case file == "":
		return nil, errors.New("no job sheet given; see size -h")
	}
	data, err := readFile(file, sizing.MaxBytes)
	if err != nil {
		return nil, err
	}
	return sizing.DecodeJob(file, data)
}

func (f *sizeFlags) print(out io.Writer, job *sizing.Job) error {
	p := &printer{out: out, sys: f.system}
	switch {
	case f.sheet:
		p.text(string(job.JSON()))
	case f.worksheet:
		p.worksheet(job)
	case f.key:
		p.key(job)
	case f.answerFile != "":
		return f.mark(p, job)
	default:
		p.solution(job)
		if f.outcome {
			return compareSizes(p, job)
		}
	}
	return p.err
}

// compareSizes prints what becomes of the worked unit and of that by the rule of thumb.
func compareSizes(p *printer, job *sizing.Job) error {
	c, _, err := marking.Compare(job, &sizing.Sheet{}, nil)
	if err != nil {
		return err
	}
	p.outcomes([]string{"worked", "rule of thumb"}, c.Worked, c.Thumb)
	return p.err
}

func (f *sizeFlags) mark(p *printer, job *sizing.Job) error {
	data, err := readFile(f.answerFile, sizing.MaxBytes)
	if err != nil {
		return err
	}
	answer, err := job.DecodeAnswer(f.answerFile, data)
	if err != nil {
		return err
	}
	c, _, err := marking.Compare(job, answer, nil)
	if err != nil {
		return fmt.Errorf("%s: %w", f.answerFile, err)
	}
	p.solution(job)
	p.marks(marking.Mark(job, answer, c.Answer, c.Worked))
	p.outcomes([]string{"your answer", "worked", "rule of thumb"}, c.Answer, c.Worked, c.Thumb)
	return p.err
}
