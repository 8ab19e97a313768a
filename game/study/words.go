package study

import (
	"slices"
	"strconv"
)

// Words says how the trainee stands with a call.
func (s *Standing) Words(nowS int64) string {
	switch {
	case s.Locked:
		return "New, for later"
	case s.State == New:
		return "New"
	case s.State == Due:
		return "Due now"
	}
	return "Learned, due " + inDays(s.DueS-nowS)
}

// inDays says in how many days a time to come is, counted up.
func inDays(s int64) string {
	const day = 86400
	if n := (s + day - 1) / day; n > 1 {
		return "in " + strconv.FormatInt(n, 10) + " days"
	}
	return "within a day"
}

// Words says why a call is the next one.
func (w Why) Words() string {
	switch w {
	case Refresher:
		return "It is due for a refresher."
	case NewRung:
		return "It is new to you."
	case Early:
		return "Nothing is due and nothing new is open: this one is due soonest."
	}
	panic("study: no reason " + string(w))
}

// Names of the levels of support.
var supportNames = [...]string{"full", "some", "little", "none"}

// String is the level's name, for machines.
func (s Support) String() string { return supportNames[s] }

// SupportNamed finds a level by its name.
func SupportNamed(name string) (s Support, ok bool) {
	i := slices.Index(supportNames[:], name)
	return Support(max(i, 0)), i >= 0
}

// Name is the level's name, for people.
func (s Support) Name() string {
	return [...]string{"Full support", "Some support", "Little support", "No support"}[s]
}

// Words says what a level leaves on the page.
func (s Support) Words() string {
	return [...]string{
		"The page says what each test tells and what it needs, and the strip charts run.",
		"The page says what each test needs, and the strip charts run.",
		"The strip charts run, but hardness is for your tests to find, in the drawing too; what a test tells and needs is left to you.",
		"The unit, the tests and their readings, and no more: hardness is for your tests to find.",
	}[s]
}
