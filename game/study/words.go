package study

import (
	"slices"

	"brinebench/game/say"
)

// Words says how the trainee stands with a call.
func (s *Standing) Words(nowS int64) string {
	switch {
	case s.Locked:
		return say.Text("standing.later")
	case s.State == New:
		return say.Text("standing.new")
	case s.State == Due:
		return say.Text("standing.due")
	}
	return inDays(s.DueS - nowS)
}

// inDays says in how many days a call that is learned is due, counted up.
func inDays(s int64) string {
	const day = 86400
	if n := (s + day - 1) / day; n > 1 {
		return say.Text("standing.in-days", int(n))
	}
	return say.Text("standing.within-day")
}

// Words says why a call is the next one.
func (w Why) Words() string {
	switch w {
	case Refresher:
		return say.Text("why.refresher")
	case NewRung:
		return say.Text("why.new")
	case Early:
		return say.Text("why.early")
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
	return say.Text("support." + s.String())
}

// Words says what a level leaves on the page.
func (s Support) Words() string {
	return say.Text("support-words." + s.String())
}
