package sizing

import (
	"encoding/json"
	"slices"
	"strconv"
	"strings"

	"brinebench/game/say"
	"brinebench/sim"
)

// Form is what a form holds: figures by their ids, and choices.
type Form struct {
	Typed  map[string]Typed  `json:",omitempty"`
	Chosen map[string]string `json:",omitempty"` // "title", "customer", "supply.kind", "controller", "salt-saving", "low-sodium" of a job; "tank", "program" of an answer
}

// maxTyped is the most that a field keeps, bytes.
const maxTyped = 400

// Set puts into a figure what was typed, in the language spoken; a text that was there
// already keeps the language that it was typed in.
func (f *Form) Set(id string, t Typed) {
	t.Text = clip(t.Text)
	if was, there := f.Typed[id]; there && was.Text == t.Text {
		t.Lang = was.Lang
	} else {
		t.Lang = say.Spoken()
	}
	if f.Typed == nil {
		f.Typed = map[string]Typed{}
	}
	f.Typed[id] = t
}

// Choose makes a choice.
func (f *Form) Choose(id, choice string) {
	if f.Chosen == nil {
		f.Chosen = map[string]string{}
	}
	f.Chosen[id] = clip(choice)
}

// clip cuts a text that no field is as long as.
func clip(text string) string {
	if len(text) <= maxTyped {
		return text
	}
	return strings.ToValidUTF8(text[:maxTyped], "")
}

// JobGroups are the groups of a job's form, in order; a figure's id begins with its group.
var JobGroups = []string{"people", "fixtures", "water", "supply", "drain", "space"}

// JobFields are the figures of a group.
func JobFields(group string) (list []sim.SizingEntry) {
	for _, e := range sim.SizingEntries() {
		if e.ID == group || strings.HasPrefix(e.ID, group+".") {
			list = append(list, e)
		}
	}
	return list
}

const (
	on      = "on"
	jobFile = "brinebench-job-1"
)

// Job makes a job sheet of a form. Where something is wrong it returns all of it, in the
// order of the form, and no sheet.
func (f *Form) Job() (jobJSON []byte, troubles []Trouble) {
	file := map[string]any{
		"format": jobFile, "seed": 1, "wishes": f.wishes(), "controller": f.choice("controller", "demand"),
		"title": f.choice("title", say.Text("sizing.own-title")), "customer": f.choice("customer", say.Text("sizing.own-customer")),
	}
	groups := map[string]map[string]any{}
	for _, g := range JobGroups[1:] {
		groups[g] = map[string]any{}
		file[g] = groups[g]
	}
	groups["supply"]["kind"] = f.choice("supply.kind", "mains")
	values := map[string]value{}
	for _, e := range sim.SizingEntries() {
		v, given, bad := f.read(&e)
		if bad != nil {
			troubles = append(troubles, *bad)
		}
		if !given {
			continue
		}
		values[e.ID] = v
		group, key, inGroup := strings.Cut(e.ID, ".")
		switch {
		case !inGroup:
			file[group] = int(v.number)
		case e.Whole:
			groups[group][key] = int(v.number)
		case v.unit == "":
			groups[group][key] = v.number
		default:
			groups[group][key] = map[string]any{"value": v.number, "unit": v.unit}
		}
	}
	troubles = append(troubles, f.across(values, troubles)...)
	if len(troubles) > 0 {
		return nil, troubles
	}
	jobJSON, err := json.Marshal(file)
	if err == nil {
		_, err = sim.OpenSizing("job", jobJSON)
	}
	if err != nil { // the engine's last word
		return nil, []Trouble{{"", "sizing.bad.engine", []any{err.Error()}}}
	}
	return jobJSON, nil
}

// read reads a figure of the form.
func (f *Form) read(e *sim.SizingEntry) (v value, given bool, bad *Trouble) {
	return read(e, f.Typed[e.ID])
}

// Check is what is wrong with a figure of the form, nil when nothing is.
func (f *Form) Check(e *sim.SizingEntry) *Trouble {
	_, _, bad := f.read(e)
	return bad
}

func (f *Form) choice(id, otherwise string) string {
	if c := strings.TrimSpace(f.Chosen[id]); c != "" {
		return c
	}
	return otherwise
}

func (f *Form) wishes() []string {
	wishes := []string{}
	for _, w := range []string{"salt-saving", "low-sodium"} {
		if f.Chosen[w] == on {
			wishes = append(wishes, w)
		}
	}
	return wishes
}

// across finds what is wrong with more than one field, where each by itself is right.
func (f *Form) across(values map[string]value, found []Trouble) (troubles []Trouble) {
	bad := func(id string) bool { return slices.ContainsFunc(found, func(t Trouble) bool { return t.Field == id }) }
	if static, residual := values["supply.static"], values["supply.residual"]; !bad("supply.static") && !bad("supply.residual") && residual.si > static.si*(1+1e-12) {
		troubles = append(troubles, Trouble{"supply.residual", "sizing.bad.residual", nil})
	}
	total, anyBad := 0.0, false
	for _, e := range JobFields("fixtures") {
		total += values[e.ID].number
		anyBad = anyBad || bad(e.ID)
	}
	if total == 0 && !anyBad {
		troubles = append(troubles, Trouble{"fixtures.toilet", "sizing.bad.fixtures", nil})
	}
	return troubles
}

// FormOf fills a form in from a job sheet.
func FormOf(jobJSON []byte) (f Form) {
	var file map[string]any
	if json.Unmarshal(jobJSON, &file) != nil {
		return f
	}
	text := func(x any) string { s, _ := x.(string); return s }
	number := func(x any) string {
		v, ok := x.(float64)
		if !ok {
			return ""
		}
		return say.Number(v, -1)
	}
	f.Choose("title", say.Sim(text(file["title"])))
	f.Choose("customer", say.Sim(text(file["customer"])))
	f.Choose("controller", text(file["controller"]))
	wishes, _ := file["wishes"].([]any)
	for _, w := range wishes {
		f.Choose(text(w), on)
	}
	if supply, ok := file["supply"].(map[string]any); ok {
		f.Choose("supply.kind", text(supply["kind"]))
	}
	for _, e := range sim.SizingEntries() {
		group, key, inGroup := strings.Cut(e.ID, ".")
		x := file[group]
		if in, ok := x.(map[string]any); ok && inGroup {
			x = in[key]
		}
		if amount, ok := x.(map[string]any); ok {
			f.Set(e.ID, Typed{Text: number(amount["value"]), Unit: text(amount["unit"])})
		} else if n := number(x); n != "" {
			f.Set(e.ID, Typed{Text: n})
		}
	}
	return f
}

// seedOf is the seed of a job sheet's household.
func seedOf(jobJSON []byte) int {
	var file struct{ Seed json.Number }
	if json.Unmarshal(jobJSON, &file) != nil {
		return 0
	}
	seed, err := strconv.Atoi(file.Seed.String())
	if err != nil {
		return 0
	}
	return seed
}
