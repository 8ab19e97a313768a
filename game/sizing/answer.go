package sizing

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"

	"brinebench/game/say"
	"brinebench/sim"
)

// Group is a part of the answer's form: an id of its heading, and of its figures.
type Group struct {
	ID      string
	Figures []string
	Choice  string // "tank" or "program" before its figures, "" none
}

// AnswerGroups are the parts of the answer's form, in the order in which a job is worked.
// What is set on a controller of the other kind stands apart: it is asked for practice, and
// has its points, but the job's unit is not set by it.
func AnswerGroups(job *sim.SizingJob) []Group {
	own, other := Group{"settings", byClock, ""}, Group{"other-demand", byDemand, ""}
	if job.Demand {
		own, other = Group{"settings", byDemand, ""}, Group{"other-clock", byClock, ""}
	}
	return append(slices.Clone(workGroups), own, other)
}

// Points are what the figures of a group are worth together.
func (g *Group) Points(job *sim.SizingJob) (points float64) {
	for _, id := range g.Figures {
		points += field(job, id).Points
	}
	return points
}

// What is set on each kind of controller.
var (
	byClock  = []string{"every_days"}
	byDemand = []string{"set_hardness", "set_capacity", "set_reserve", "override_days"}
)

// workGroups are the parts of every job's form.
var workGroups = []Group{
	{"load", []string{"hardness", "compensated_hardness", "daily_water", "daily_load"}, ""},
	{"flows", []string{"fixture_units", "peak_flow", "service_flow"}, ""},
	{"tank", []string{"resin_needed", "resin", "service_loss", "pressure_loss"}, "tank"},
	{"salt", []string{"salt_dose", "capacity", "reserve", "interval"}, ""},
	{"parts", []string{"drain_control", "nozzle", "throat", "refill_control", "refill_time"}, "program"},
	{"use", []string{"regeneration_water", "regenerations_per_year", "salt_per_year", "sodium_added"}, ""},
}

const answerFile = "brinebench-answer-1"

// Answer makes an answer of a form. Where something is wrong it returns all of it and no
// answer; an answer without a figure is wrong too.
func (f *Form) Answer(job *sim.SizingJob) (answerJSON []byte, troubles []Trouble) {
	figures := map[string]any{}
	first := ""
	for _, g := range AnswerGroups(job) {
		for _, id := range g.Figures {
			if first == "" {
				first = id
			}
			v, given, bad := f.read(Figure(job, id))
			switch {
			case bad != nil:
				troubles = append(troubles, *bad)
			case given && v.unit == "":
				figures[id] = map[string]any{"value": v.number}
			case given:
				figures[id] = map[string]any{"value": v.number, "unit": v.unit}
			}
		}
	}
	file := map[string]any{"format": answerFile, "figures": figures}
	for _, id := range []string{"tank", "program"} {
		if c := f.Chosen[id]; c != "" {
			file[id] = c
		}
	}
	if len(figures) == 0 && len(file) == 2 && len(troubles) == 0 {
		troubles = append(troubles, Trouble{first, "sizing.bad.nothing", nil})
	}
	if len(troubles) > 0 {
		return nil, troubles
	}
	answerJSON, err := json.Marshal(file)
	if err == nil {
		err = sim.CheckSizingAnswer("answer", answerJSON)
	}
	if err != nil {
		return nil, []Trouble{{"", "sizing.bad.engine", []any{err.Error()}}}
	}
	return answerJSON, nil
}

// SoFar makes an answer of those figures that can be read. What is wrong with it then is
// no figure's; where nothing is answered there is no answer.
func (f *Form) SoFar(job *sim.SizingJob) (answerJSON []byte, troubles []Trouble) {
	answerJSON, troubles = f.Answer(job)
	if len(troubles) == 0 {
		return answerJSON, nil
	}
	read := Form{Typed: maps.Clone(f.Typed), Chosen: f.Chosen}
	for _, t := range troubles {
		delete(read.Typed, t.Field)
	}
	return read.Answer(job)
}

// AnswerForm is the form that an answer, as SoFar makes it, was made of: what was typed
// and could be read, for another device to go on with. The error is that of a text that is
// no answer.
func AnswerForm(answerJSON []byte) (f Form, err error) {
	if err := sim.CheckSizingAnswer("answer", answerJSON); err != nil {
		return f, err
	}
	var file struct {
		Tank, Program string
		Figures       map[string]struct {
			Value float64
			Unit  string
		}
	}
	if err := json.Unmarshal(answerJSON, &file); err != nil {
		return f, err
	}
	for id, x := range file.Figures {
		f.Set(id, Typed{Text: say.Number(x.Value, -1), Unit: x.Unit})
	}
	f.Choose("tank", file.Tank)
	f.Choose("program", file.Program)
	return f, nil
}

// Figure finds a figure of a job's answer; it panics for one that there is not.
func Figure(job *sim.SizingJob, id string) *sim.SizingEntry { return &field(job, id).SizingEntry }

// FigureName is what a figure is called; one that is converted with the unit of the sheet.
func FigureName(job *sim.SizingJob, id string) string {
	f := field(job, id)
	name := say.Sim(f.Name)
	if f.From != "" {
		return say.Text("sizing.from-unit", name, UnitName(f.From))
	}
	return name
}

func field(job *sim.SizingJob, id string) *sim.SizingField {
	for i := range job.Figures {
		if job.Figures[i].ID == id {
			return &job.Figures[i]
		}
	}
	panic("sizing: no figure " + id)
}

// Filled counts the figures that hold something.
func (f *Form) Filled(job *sim.SizingJob) (n int) {
	for i := range job.Figures {
		if f.Typed[job.Figures[i].ID].Text != "" {
			n++
		}
	}
	return n
}

// ProgramName is a program's name in the engine's English.
func ProgramName(id string) string { return strings.ReplaceAll(id, "-", " ") }
