package class

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"time"

	"brinebench/sim"
)

// Sheet is what the results of a class are written from.
type Sheet struct {
	Class    Class
	Drills   []Drill
	Members  []Member
	Attempts []Attempt
	Results  []Result
	NowMS    int64
	Title    func(d *Drill) string   // in the reader's language
	Truth    func(d *Drill) []string // ids of what is wrong in a call
	Cause    func(id string) string  // its name
}

var columns = []string{
	"nickname", "drill", "title", "kind", "status", "score", "minutes", "unsafe", "named", "right", "acts", "why",
	"class", "date", "exam", "named as", "cause", "cause as", "answered", "asked", "job",
}

type pair struct{ member, drill int64 }

// WriteCSV writes the results: a line for each member and drill that is for them, with a
// heading. Points are written with a point, minutes as those that are over. What a drill
// does not have is left empty.
func (s *Sheet) WriteCSV(out io.Writer) error {
	w := csv.NewWriter(out)
	w.Write(columns)
	tried, scored := map[pair]*Attempt{}, map[pair]*Result{}
	for i := range s.Attempts {
		tried[pair{s.Attempts[i].Member, s.Attempts[i].Drill}] = &s.Attempts[i]
	}
	for i := range s.Results {
		scored[pair{s.Results[i].Member, s.Results[i].Drill}] = &s.Results[i]
	}
	for _, m := range s.Members {
		for i := range s.Drills {
			d := &s.Drills[i]
			if !d.For(m.ID) {
				continue
			}
			line := s.line(d, tried[pair{m.ID, d.ID}], scored[pair{m.ID, d.ID}])
			line["nickname"] = m.Nickname
			w.Write(cellsOf(line))
		}
	}
	w.Flush()
	return w.Error()
}

// line is what stands in the columns for one drill of one member, but for their name.
func (s *Sheet) line(d *Drill, a *Attempt, r *Result) map[string]string {
	x := map[string]string{
		"drill": strconv.Itoa(d.Place), "title": s.Title(d), "kind": string(d.Kind), "status": "not begun", "class": s.Class.Name,
		"date": time.UnixMilli(s.Class.MadeMS).Format(time.DateOnly), "exam": strconv.FormatBool(d.Exam),
	}
	isCall := d.Kind == Call
	if isCall {
		truth := s.Truth(d)
		x["cause"], x["cause as"] = strings.Join(truth, "+"), Causes(truth, s.Cause)
	}
	if job := d.Job(); job != 0 {
		x["job"] = strconv.FormatUint(job, 10)
	}
	if a != nil {
		x["status"], x["why"] = string(a.Standing(s.Class.Over(s.NowMS))), a.Why
		if x["status"] == string(Marking) {
			x["status"] = "being marked"
		}
	}
	switch {
	case a != nil && isCall:
		x["acts"] = strconv.Itoa(a.Acts)
	case a != nil && a.Asked > 0:
		x["answered"], x["asked"] = strconv.Itoa(a.Answered), strconv.Itoa(a.Asked)
	}
	if r != nil {
		x["score"] = fmt.Sprintf("%.1f", r.Score)
	}
	if r != nil && isCall {
		x["minutes"], x["unsafe"] = fmt.Sprintf("%.0f", math.Floor(r.Minutes)), strconv.Itoa(r.Unsafe)
		x["named"], x["right"], x["named as"] = r.Named, strconv.FormatBool(r.Right), Causes(sim.VerdictIDs(r.Named), s.Cause)
	}
	return x
}

// Causes are the names of causes, in a row.
func Causes(ids []string, name func(id string) string) string {
	var names []string
	for _, id := range ids {
		names = append(names, name(id))
	}
	return strings.Join(names, "; ")
}

// cellsOf brings a line into the columns' order.
func cellsOf(line map[string]string) (cells []string) {
	for _, c := range columns {
		cells = append(cells, disarm(line[c]))
	}
	return cells
}

// disarm keeps a spreadsheet from taking what somebody typed for a formula: by an
// apostrophe before what could begin one, after any white space too, and after a
// semicolon, at which many spreadsheets begin another cell.
func disarm(s string) string {
	return formula.ReplaceAllString(s, "$1'$2")
}

var formula = regexp.MustCompile(`(^|;)([ \t\r\n]*[=+\-@|%＝＋－＠]|[\t\r\n])`)
