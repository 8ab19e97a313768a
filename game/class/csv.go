package class

import (
	"encoding/csv"
	"fmt"
	"io"
	"regexp"
	"strconv"
)

// WriteCSV writes the results of a class: a line for each member and drill that is for
// them, with a heading. Points and minutes are written with a point.
func WriteCSV(out io.Writer, drills []Drill, members []Member, attempts []Attempt, results []Result) error {
	w := csv.NewWriter(out)
	w.Write([]string{"nickname", "drill", "title", "kind", "status", "score", "minutes", "unsafe", "named", "right", "acts", "why"})
	type key struct{ member, drill int64 }
	tried, scored := map[key]*Attempt{}, map[key]*Result{}
	for i := range attempts {
		tried[key{attempts[i].Member, attempts[i].Drill}] = &attempts[i]
	}
	for i := range results {
		scored[key{results[i].Member, results[i].Drill}] = &results[i]
	}
	for _, m := range members {
		for _, d := range drills {
			if !d.For(m.ID) {
				continue
			}
			line := []string{m.Nickname, strconv.Itoa(d.Place), d.Title, string(d.Kind), "not begun", "", "", "", "", "", "", ""}
			if a := tried[key{m.ID, d.ID}]; a != nil {
				line[4], line[10], line[11] = string(a.Status), strconv.Itoa(a.Acts), a.Why
			}
			if r := scored[key{m.ID, d.ID}]; r != nil {
				line[5], line[6] = fmt.Sprintf("%.1f", r.Score), fmt.Sprintf("%.0f", r.Minutes)
				line[7], line[8], line[9] = strconv.Itoa(r.Unsafe), r.Named, strconv.FormatBool(r.Right)
			}
			for i := range line {
				line[i] = disarm(line[i])
			}
			w.Write(line)
		}
	}
	w.Flush()
	return w.Error()
}

// disarm keeps a spreadsheet from taking what somebody typed for a formula: by an
// apostrophe before what could begin one, after any white space too, and after a
// semicolon, at which many spreadsheets begin another cell.
func disarm(s string) string {
	return formula.ReplaceAllString(s, "$1'$2")
}

var formula = regexp.MustCompile(`(^|;)([ \t\r\n]*[=+\-@|%＝＋－＠]|[\t\r\n])`)
