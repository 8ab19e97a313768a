package sizing

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"brinebench/game/say"
	"brinebench/sim"
)

// Typed is what a field holds, as a person left it: the text, the unit chosen beside it,
// by its name in the engine, and the language that it was typed in, which its marks are
// read by; "" is the one spoken.
type Typed struct {
	Text, Unit string
	Lang       say.Lang `json:",omitempty"`
}

// Trouble is what is wrong with a field: a text of the page with its arguments, told in
// the language of the moment.
type Trouble struct {
	Field string // id
	ID    string
	Args  []any
}

func (t Trouble) String() string { return say.Text(t.ID, t.Args...) }

// value is a figure that has been read.
type value struct {
	number float64
	unit   string
	si     float64
}

// figure is a number as people type it, with what stands behind it.
var (
	figure  = regexp.MustCompile(`^([+-]?(?:\d[\d., ]*)?[.,]?\d+)\s*(.*)$`)
	spaces  = strings.NewReplacer("\u00a0", " ", "\u202f", " ", "\u2009", " ", "−", "-")
	powers  = regexp.MustCompile(`^[+-]?\d+(?:[.,]\d+)?[eE][+-]?\d+`)
	grouped = regexp.MustCompile(`^[+-]?[1-9]\d{0,2}(?:( \d{3})+([.,]\d+)?|(,\d{3})+(\.\d+)?|(\.\d{3})+(,\d+)?)$`)
)

// read reads a field. given is false where it was left empty and may be; a trouble says
// what is wrong.
func read(e *sim.SizingEntry, t Typed) (v value, given bool, bad *Trouble) {
	trouble := func(id string, args ...any) (value, bool, *Trouble) {
		return value{}, false, &Trouble{e.ID, "sizing.bad." + id, args}
	}
	text := strings.TrimSpace(spaces.Replace(t.Text))
	if text == "" {
		if e.Optional {
			return v, false, nil
		}
		return trouble("empty")
	}
	m := figure.FindStringSubmatch(text)
	if m == nil || powers.MatchString(text) {
		return trouble("letters", t.Text)
	}
	if strings.ContainsAny(withoutUnit(e, m[2]), "0123456789") {
		return trouble("two", t.Text)
	}
	x, id := number(m[1], t.lang())
	if id != "" {
		return trouble(id, m[1])
	}
	u, bad := unitOf(e, t.Unit, m[2])
	if bad != nil {
		return v, false, bad
	}
	if e.Whole && x != math.Floor(x) {
		return trouble("whole", m[1])
	}
	const slack = 1e-9
	if !(x >= u.Least-slack*(1+math.Abs(u.Least)) && x <= u.Most+slack*(1+math.Abs(u.Most))) {
		return trouble("range", Bound(u.Least), strings.TrimSpace(Bound(u.Most)+" "+UnitName(u.Name)))
	}
	return value{x, u.Name, x*u.InSI + u.Zero}, true, nil
}

// lang is the language that the text is read in.
func (t Typed) lang() say.Lang {
	if t.Lang == "" {
		return say.Spoken()
	}
	return t.Lang
}

// number reads a number in the way of a language; id is what is wrong with it. One mark
// before three digits is a thousand in English if it is a comma, as in American Spanish, and
// in Spanish nobody knows if it is a point. More than one mark is only read where all digits between them
// stand in threes.
func number(text string, l say.Lang) (x float64, id string) {
	points, commas := strings.Count(text, "."), strings.Count(text, ",")
	switch spaced := strings.Contains(text, " "); {
	case spaced && !grouped.MatchString(text):
		return 0, "two"
	case points+commas > 1 && !grouped.MatchString(text):
		return 0, "letters"
	}
	text = strings.ReplaceAll(text, " ", "")
	switch {
	case points > 0 && commas > 0: // the last is the decimal one
		if strings.LastIndex(text, ".") > strings.LastIndex(text, ",") {
			text = strings.ReplaceAll(text, ",", "")
		} else {
			text = strings.ReplaceAll(strings.ReplaceAll(text, ".", ""), ",", ".")
		}
	case points > 1 || commas > 1:
		text = strings.ReplaceAll(strings.ReplaceAll(text, ".", ""), ",", "")
	case commas == 1 && thousand(text, ",") && l != say.Spanish:
		text = strings.Replace(text, ",", "", 1)
	case points == 1 && thousand(text, ".") && l == say.Spanish:
		return 0, "thousand"
	default:
		text = strings.Replace(text, ",", ".", 1)
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(x, 0) {
		return 0, "letters"
	}
	return x, ""
}

// thousand tells whether a mark stands before three last digits, and behind one to three
// that do not begin with nought.
func thousand(text, mark string) bool {
	whole, part, _ := strings.Cut(strings.TrimLeft(text, "+-"), mark)
	return len(part) == 3 && len(whole) >= 1 && len(whole) <= 3 && whole[0] != '0'
}

// unitOf is the unit of a figure: the one typed behind it, or the one chosen. Both may be
// given if they are the same.
func unitOf(e *sim.SizingEntry, chosen, typed string) (u sim.SizingUnit, bad *Trouble) {
	units := e.Units[0]
	u = units[0]
	if i := slices.IndexFunc(units, func(x sim.SizingUnit) bool { return x.Name == chosen }); i >= 0 {
		u = units[i]
	} else if chosen != "" { // kept from when it was one
		return u, &Trouble{e.ID, "sizing.bad.unit", []any{UnitName(chosen), unitList(e)}}
	}
	if typed == "" {
		return u, nil
	}
	for _, x := range units {
		if !sameUnit(typed, x.Name) {
			continue
		}
		if chosen != "" && x.Name != chosen {
			return u, &Trouble{e.ID, "sizing.bad.units", []any{UnitName(x.Name), UnitName(chosen)}}
		}
		return x, nil
	}
	return u, &Trouble{e.ID, "sizing.bad.unit", []any{typed, unitList(e)}}
}

// TypedUnit is the unit that stands behind a figure as it is typed, by its name in the
// engine, "" where there is none that the field knows.
func TypedUnit(e *sim.SizingEntry, text string) string {
	m := figure.FindStringSubmatch(strings.TrimSpace(spaces.Replace(text)))
	if m == nil || m[2] == "" {
		return ""
	}
	for _, u := range e.Units[0] {
		if sameUnit(m[2], u.Name) {
			return u.Name
		}
	}
	return ""
}

// withoutUnit is what is left of what stands behind a figure once a unit is taken off
// whose name has digits itself, be it one of the figure's or not.
func withoutUnit(e *sim.SizingEntry, typed string) string {
	for _, u := range e.Units[0] {
		if sameUnit(typed, u.Name) {
			return ""
		}
	}
	for name := range printed {
		if sameUnit(typed, name) {
			return ""
		}
	}
	return typed
}

// alsoTyped are other ways in which technicians write a unit.
var alsoTyped = map[string][]string{
	"mg/L as CaCO3": {"ppm", "mg/L"}, "mg/L": {"ppm"}, "ft3": {"cu ft"}, "gal": {"gallon"}, "grain": {"gr"}, "kilograin": {"kgr", "kgrain"},
	"in": {`"`, "inch", "inches"}, "ft": {"'", "foot", "feet"}, "lb": {"pound"}, "L": {"l", "litre", "liter", "litro"}, "mol": {"mole"}, "eq": {"equivalent", "equivalente"},
}

var plainUnit = strings.NewReplacer("³", "3", "₃", "3", "°", "", ".", "", " ", "")

// sameUnit tells whether somebody who types a unit means one of the engine, by its name
// there or by the one on the page.
func sameUnit(typed, name string) bool {
	t := strings.ToLower(plainUnit.Replace(typed))
	for _, n := range append([]string{name, UnitName(name), say.Sim(name), say.Sim(name + "s")}, alsoTyped[name]...) {
		n = strings.ToLower(plainUnit.Replace(n))
		if t == n || n != "" && t == n+"s" {
			return true
		}
	}
	return false
}

func unitList(e *sim.SizingEntry) string {
	var names []string
	for _, u := range e.Units[0] {
		if name := UnitName(u.Name); u.Name != "" && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return say.Text("sizing.no-unit")
	}
	return strings.Join(names, ", ")
}

// printed are units as they are printed.
var printed = map[string]string{
	"mg/L as CaCO3": "mg/L as CaCO₃", "g as CaCO3": "g as CaCO₃", "ft3": "ft³", "m3": "m³", "m3/h": "m³/h",
	"day": "days", "grain": "grains", "kilograin": "kilograins",
	"dH": "°dH", "fH": "°fH", "Clark": "°Clark", "F": "°F", "C": "°C",
}

// UnitName is a unit of the engine as the page prints it.
func UnitName(name string) string {
	if name == "in" { // which is a word of the engine too
		return say.Text("unit.inch")
	}
	if p := printed[name]; p != "" {
		name = p
	}
	return say.Sim(name)
}

// Bound writes a bound of a field with no more digits than it needs.
func Bound(x float64) string {
	const digits = 3
	r, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64)
	if err != nil {
		panic("sizing: " + err.Error())
	}
	return say.Number(r, -1)
}
