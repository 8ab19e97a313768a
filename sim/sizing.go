package sim

import (
	"encoding/json"
	"errors"
	"fmt"

	"brinebench/sim/marking"
	"brinebench/sim/outcome"
	"brinebench/sim/sizing"
	"brinebench/sim/valve"
)

// What a sizing is made of, as plain data; texts that depend on the units are pairs,
// US units first, SI second.
type (
	SizingLine    = sizing.Line    // one line of a job sheet
	SizingTable   = sizing.Table   // what a job is worked out with by hand
	SizingStep    = sizing.Step    // one step of a worked solution
	SizingWarning = sizing.Warning // what has to be seen to besides
	SizingTank    = sizing.Tank    // a tank to choose
	SizingOutcome = outcome.Outcome
	SizingEntry   = sizing.Entry     // a figure that somebody writes
	SizingUnit    = sizing.EntryUnit // a unit that it may be written in
)

// SizingJob is a job sheet and what an answer to it may hold.
type SizingJob struct {
	Title, Customer string
	JSON            []byte // the sheet as a file
	Demand          bool   // it has a demand controller, otherwise a clock
	Lines           [2][]SizingLine
	Figures         []SizingField
	Tanks           []SizingTank
	Programs        []string // ids
}

// SizingField is a figure that an answer may give.
type SizingField struct {
	SizingEntry
	Name   string
	From   string // the unit of the sheet, where it is to be converted into another; "" otherwise
	Choice bool   // others may be as good as the worked one
	Points float64
}

// SizingRuleTable is the id of the table that has every figure's rule.
const SizingRuleTable = sizing.RuleTable

// SizingTables are the tables that a job is worked out with by hand, in SI units or US
// ones. They take some tenths of a second. Errors are those of OpenSizing.
func SizingTables(name string, jobJSON []byte, si bool) ([]SizingTable, error) {
	j, err := sizing.DecodeJob(name, jobJSON)
	if err != nil {
		return nil, err
	}
	if si {
		return sizing.Tables(j, sizing.SI), nil
	}
	return sizing.Tables(j, sizing.US), nil
}

// SizingSolution is the worked solution of a job.
type SizingSolution struct {
	TankID, Program string
	Tank            [2]string // its name
	Steps           []SizingStep
	Faults          []string // what fits in no way, sentences
	Warnings        []SizingWarning
}

// OpenSizing opens a job sheet. The error joins every fault, each with file and field.
func OpenSizing(name string, jobJSON []byte) (SizingJob, error) {
	j, err := sizing.DecodeJob(name, jobJSON)
	if err != nil {
		return SizingJob{}, err
	}
	return sizingJob(j), nil
}

// SizingEntries are the figures of a job sheet, ids with their group, as "water.hardness".
func SizingEntries() []SizingEntry { return sizing.JobEntries() }

// DrawSizing draws a job sheet, the same for the same seed.
func DrawSizing(seed uint64) SizingJob { return sizingJob(sizing.Drawn(seed)) }

func sizingJob(j *sizing.Job) SizingJob {
	out := SizingJob{Title: j.Title, Customer: j.Customer, JSON: j.JSON(), Demand: j.Demand, Tanks: sizing.Tanks(), Programs: valve.ProgramIDs()}
	for _, sys := range []sizing.System{sizing.US, sizing.SI} {
		out.Lines[sys] = j.Lines(sys)
	}
	for f := range sizing.NumFigures {
		out.Figures = append(out.Figures, SizingField{j.Entry(f), f.Name(), j.From(f), f.Choice(), f.Points()})
	}
	return out
}

// SolveSizing works a job out. Errors are those of OpenSizing.
func SolveSizing(name string, jobJSON []byte) (SizingSolution, error) {
	j, err := sizing.DecodeJob(name, jobJSON)
	if err != nil {
		return SizingSolution{}, err
	}
	sol := sizing.Solve(j)
	return SizingSolution{
		TankID: sol.Sheet.Tank, Tank: sol.TankName, Program: sol.Sheet.Program,
		Steps: sol.Steps, Faults: faultTexts(sol.Faults), Warnings: sol.Warnings,
	}, nil
}

func faultTexts(list []sizing.Fault) (texts []string) {
	for _, f := range list {
		texts = append(texts, f.What)
	}
	return texts
}

// CheckSizingAnswer returns what is wrong with an answer as a file, to whatever job. The
// error joins every fault, each with file and field.
func CheckSizingAnswer(name string, answerJSON []byte) error {
	_, err := sizing.DecodeAnswer(name, answerJSON)
	return err
}

// SizingFigureMark is one figure of an answer, marked.
type SizingFigureMark struct {
	ID, Name       string
	Verdict        string // "right", "fits", "follows", "wrong" or "missing"
	Points, Of     float64
	Near           [2]string // what is near enough to Want, from and to
	Got, Want, Own [2]string // Got is "" where it is missing; Own is what the answer's earlier figures lead to
	Against        []string  // what speaks against a choice, sentences
}

// SizingItem is one line of the points for what came of the unit.
type SizingItem = marking.Item

// SizingMarks are the marks of an answer and what became of the three units.
type SizingMarks struct {
	Score              float64  // of 100
	Right, Consistency float64  // points of 50 for figures that are right or fit, and for those that follow from wrong ones
	Answered           float64  // share of what the unit is made of that was answered, 0..1; the outcome's points are times it
	Silent             []string // names of what it is made of and was not answered
	Figures            []SizingFigureMark
	Outcome            []SizingItem
	Faults             []string
	Answer             SizingOutcome // of the answered unit, completed where it was silent
	Worked             SizingOutcome
	Thumb              SizingOutcome // of the usual rule of thumb
}

// MarkSizing marks an answer to a job: it lets three units live for 90 days, a second or
// two. progress, if given, hears how far it has come, 0..1, and stops it by false.
func MarkSizing(jobJSON, answerJSON []byte, progress func(done float64) bool) (SizingMarks, error) {
	j, err := sizing.DecodeJob("job", jobJSON)
	if err != nil {
		return SizingMarks{}, err
	}
	answer, err := j.DecodeAnswer("answer", answerJSON)
	if err != nil {
		return SizingMarks{}, err
	}
	c, ok, err := marking.Compare(j, answer, progress)
	switch {
	case err != nil:
		return SizingMarks{}, err
	case !ok:
		return SizingMarks{}, ErrStopped
	}
	m := marking.Mark(j, answer, c.Answer, c.Worked)
	out := SizingMarks{
		Score: m.Score, Right: m.Right, Consistency: m.Consistency, Answered: m.Answered,
		Outcome: m.Outcome, Faults: faultTexts(m.Faults), Answer: c.Answer, Worked: c.Worked, Thumb: c.Thumb,
	}
	for _, f := range m.Silent {
		out.Silent = append(out.Silent, f.Name())
	}
	for i := range m.Figures {
		out.Figures = append(out.Figures, figureMark(&m.Figures[i]))
	}
	return out, nil
}

// CheckSizing tells what keeps MarkSizing from marking an answer. No unit lives for it.
func CheckSizing(jobJSON, answerJSON []byte) error {
	_, err := MarkSizing(jobJSON, answerJSON, func(float64) bool { return false })
	if errors.Is(err, ErrStopped) {
		return nil
	}
	return err
}

func figureMark(x *marking.Figure) SizingFigureMark {
	f, k := x.Figure, x.Figure.Kind()
	out := SizingFigureMark{ID: f.ID(), Name: f.Name(), Verdict: string(x.Verdict), Points: x.Points, Of: x.Of, Against: faultTexts(x.Against)}
	for _, sys := range []sizing.System{sizing.US, sizing.SI} {
		out.Want[sys], out.Own[sys] = k.Text(x.Want, sys), k.Text(x.Own, sys)
		out.Near[sys] = k.Number(x.Low, sys) + " – " + k.Text(x.High, sys)
		if x.Verdict != marking.Missing {
			out.Got[sys] = k.Text(x.Got, sys)
		}
	}
	return out
}

// sizingRequest is a job with its answer, on the way to the worker.
type sizingRequest struct {
	Job    json.RawMessage `json:"job"`
	Answer json.RawMessage `json:"answer"`
}

// PackSizing puts a job and its answer into one, for the worker.
func PackSizing(jobJSON, answerJSON []byte) ([]byte, error) {
	return json.Marshal(sizingRequest{jobJSON, answerJSON})
}

// MarkPackedSizing is MarkSizing of what PackSizing made.
func MarkPackedSizing(packed []byte, progress func(done float64) bool) (SizingMarks, error) {
	var r sizingRequest
	if err := json.Unmarshal(packed, &r); err != nil {
		return SizingMarks{}, fmt.Errorf("sizing: %w", err)
	}
	return MarkSizing(r.Job, r.Answer, progress)
}
