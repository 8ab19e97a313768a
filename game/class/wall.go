package class

import (
	"slices"
	"strings"

	"brinebench/sim"
)

// Wall is what the board may tell where all the class reads it: some are still at work.
type Wall struct {
	Rows     []Row
	Mistakes []Mistake
	Sums     []Sum
	Exam     bool // one runs: nothing is told of what somebody has found or what it came to
}

// Sum is what a drill came to, for the class as a whole.
type Sum struct {
	Drill        int64
	Scored       int
	Mean         float64
	Right, Wrong int // verdicts; both 0 where the drill is no call
}

// leastSummed is how many have to be scored for their sum to be told: of two, each could
// reckon the other's.
const leastSummed = 3

// SomeCause stands for a cause that was named where it is not told which.
const SomeCause = "?"

// OnWall leaves out of the board what would give an answer away, or tell of one trainee how
// well they did.
func OnWall(c *Shown, rows []Row, mistakes []Mistake, nowMS int64) Wall {
	w := Wall{Exam: c.Examines(nowMS)}
	open := map[int64]bool{}
	for i := range c.Drills {
		d := &c.Drills[i]
		open[d.ID] = c.open(d, rows)
		if s := SumOf(d.ID, rows); !w.Exam && !open[d.ID] && s.Scored >= leastSummed {
			w.Sums = append(w.Sums, s)
		}
	}
	for i := range rows {
		w.Rows = append(w.Rows, rows[i].onWall(w.Exam))
	}
	if !w.Exam {
		w.Mistakes = mistakesOnWall(mistakes, open)
	}
	return w
}

// mistakesOnWall are those of drills that nobody works at any more. What is unsafe is told at
// once, for the next one's sake, without the words in which its part stands: that may be the
// one with the fault.
func mistakesOnWall(mistakes []Mistake, open map[int64]bool) (list []Mistake) {
	hazards := map[string]tally{}
	for _, m := range mistakes {
		if !strings.HasPrefix(m.What, UnsafeMistake) {
			if !slices.ContainsFunc(m.Drills, func(id int64) bool { return open[id] }) {
				list = append(list, m)
			}
			continue
		}
		h := hazardOf(sim.ActionKind(m.Act))
		if _, known := hazards[h]; !known {
			hazards[h] = newTally()
		}
		for _, id := range m.Who {
			hazards[h].members[id] = true
		}
		for _, id := range m.Drills {
			hazards[h].drills[id] = true
		}
	}
	for h, t := range hazards {
		list = append(list, t.mistake(UnsafeMistake, h))
	}
	return commonest(list)
}

// Hazards are what an unsafe act may be told as where its part is not to be told.
var Hazards = []string{"opened", "cut", "water", "drum", "salt", "other"}

// hazardOf is that of an act.
func hazardOf(act sim.ActionKind) string {
	switch act {
	case sim.ActOpen:
		return "opened"
	case sim.ActReplace:
		return "cut"
	case sim.ActBypass, sim.ActShutOff:
		return "water"
	case sim.ActStartRegen, sim.ActAdvance, sim.ActPower:
		return "drum"
	case sim.ActMishap:
		return "salt"
	}
	return "other"
}

// Examines reports whether the class has an exam of which nobody is to know yet.
func (c *Shown) Examines(nowMS int64) bool {
	return slices.ContainsFunc(c.Drills, func(d Drill) bool { return d.Exam }) && !c.Told(nowMS)
}

// onWall is a row as everybody may read it. Who is stuck is known by what the readings speak
// for.
func (r Row) onWall(exam bool) Row {
	r.Nickname, r.Told, r.Warned, r.Belief, r.Right, r.Scores, r.Rights = "", "", false, nil, false, nil, nil
	if r.State == Stuck {
		r.State = Working
	}
	switch {
	case exam:
		r.Last, r.Named, r.Answered, r.Asked = "", "", 0, 0
	case r.Named != "":
		r.Named = SomeCause
	}
	return r
}

// open reports whether somebody may still work at a drill: it is over when the class has
// ended, or when everybody whose it is has handed it in or gone on to a later one.
func (c *Shown) open(d *Drill, rows []Row) bool {
	if c.EndMS != 0 {
		return false
	}
	handed := false
	for i := range rows {
		r := &rows[i]
		switch {
		case r.Out || !d.For(r.Member):
		case slices.Contains(r.Closed, d.ID):
			handed = true
		case slices.Contains(r.Begun, d.ID) || !r.beyond(d, c.Drills):
			return true
		}
	}
	return !handed
}

// beyond reports whether somebody has begun a drill that comes after another.
func (r *Row) beyond(d *Drill, drills []Drill) bool {
	return slices.ContainsFunc(drills, func(later Drill) bool {
		return later.Place > d.Place && slices.Contains(r.Begun, later.ID)
	})
}

// SumOf sums up how a drill went for those on the board who were scored at it.
func SumOf(drill int64, rows []Row) Sum {
	s := Sum{Drill: drill}
	for i := range rows {
		score, ok := rows[i].Scores[drill]
		if !ok {
			continue
		}
		s.Scored, s.Mean = s.Scored+1, s.Mean+score
		if right, isCall := rows[i].Rights[drill]; isCall && right {
			s.Right++
		} else if isCall {
			s.Wrong++
		}
	}
	s.Mean /= float64(max(s.Scored, 1))
	return s
}
