package call

import (
	"slices"

	"brinebench/sim/instrument"
)

// Line is one line of the work order: what is suspected, what would show it, what
// showed, and what follows.
type Line struct {
	Suspect    string // fault, NoFault, or "" for an open question
	Expected   string // what the reading should show if that is so, in the trainee's words
	Result     int    // place in the Journal of the reading that came next; -1 while there is none
	Conclusion string // one of Conclusions; "" until it is drawn
}

// Conclusions that can be drawn from a reading about what was suspected.
var Conclusions = []string{"for", "against", "neither"}

// Order returns the lines of the work order, made from the journal.
func (c *Call) Order() (lines []Line) {
	for i := range c.Journal {
		e := &c.Journal[i]
		last := len(lines) - 1
		switch {
		case e.Action.Kind == Plan:
			lines = append(lines, Line{Suspect: e.Action.ID, Expected: e.Action.Text, Result: -1})
		case e.Action.Kind == Conclude:
			lines[int(e.Action.Value)].Conclusion = e.Action.ID
		case e.Reading != nil && last >= 0 && lines[last].Result < 0:
			lines[last].Result = i
		}
	}
	return lines
}

// admitPlan takes any cause of the catalogue or an open question.
func (c *Call) admitPlan(a Act) error {
	if a.ID == "" {
		return nil
	}
	return admitCause(a.ID)
}

func (c *Call) admitConclusion(a Act) error {
	if !slices.Contains(Conclusions, a.ID) {
		return refuse("id", "No conclusion is named %q.", a.ID)
	}
	lines := c.Order()
	if !(a.Value >= 0 && a.Value < float64(len(lines))) || a.Value != float64(int(a.Value)) {
		return refuse("value", "The work order has no line %v.", a.Value)
	}
	if !c.Heedless && lines[int(a.Value)].Result < 0 {
		return refuse("", "There is no result yet to conclude from.")
	}
	return nil
}

// tellPlan says what a line of the work order begins with.
func tellPlan(a Act) string {
	text := "Wrote down an open question."
	if a.ID != "" {
		text = "Suspects: " + FaultName(a.ID) + "."
	}
	if a.Text != "" {
		text += " Expects: " + a.Text
	}
	return text
}

func (c *Call) tellConclusion(a Act) string {
	l := c.Order()[int(a.Value)]
	what := "the open question"
	if l.Suspect != "" {
		what = FaultName(l.Suspect)
	}
	by := ""
	if l.Result >= 0 && c.Journal[l.Result].Reading != nil {
		in, _ := instrument.Find(c.Journal[l.Result].Reading.Instrument)
		by = " (" + in.Name + ")"
	}
	return "Concluded: it speaks " + map[string]string{"for": "for ", "against": "against ", "neither": "neither for nor against "}[a.ID] + "\"" + what + "\"" + by + "."
}
