package room

import (
	"bytes"
	"fmt"
	"html/template"
	"net/http"
	"strconv"
	"strings"
	"time"

	"brinebench/cmd/brinebench/internal/live"
	"brinebench/game/class"
	"brinebench/game/say"
	"brinebench/sim"
)

func nameOf(d *class.Drill) string { return live.Name(d) }

// resultsCSV is the results as a table, its names in the language of the tag ?lang=;
// English without one.
func (r *Room) resultsCSV(a ask) error {
	w, drills, err := r.ofClass(&a)
	if err != nil {
		return err
	}
	all, err := choices()
	if err != nil {
		return err
	}
	v := say.In(say.Named(a.q.URL.Query().Get("lang")))
	sheet := class.Sheet{
		Class: w.Class, Drills: drills, Members: w.Members, Attempts: w.Attempts, Results: w.Results, NowMS: r.opt.NowMS(),
		Title: func(d *class.Drill) string { return v.Title(d.Title, d.Titles) },
		Cause: causeIn(v),
		Truth: func(d *class.Drill) []string {
			if c := callNamed(all, d.Ref); c != nil {
				return c.Faults
			}
			return nil // of another version's calls
		},
	}
	var out bytes.Buffer
	if err := sheet.WriteCSV(&out); err != nil {
		return err
	}
	a.w.Header().Set("Content-Disposition", fmt.Sprintf(`attachment; filename="class-%d.csv"`, a.class.ID))
	return a.send("text/csv; charset=utf-8", out.Bytes())
}

func (r *Room) ofClass(a *ask) (w class.Watched, drills []class.Drill, err error) {
	if w, err = r.watched(a.q.Context(), a.class.ID); err != nil {
		return w, nil, err
	}
	drills, err = r.drills(a.q.Context(), a.class.ID)
	return w, drills, err
}

// sheet is the results as they are printed, in the language that is asked for.
var sheet = template.Must(template.New("sheet").Parse(`<!doctype html>
<html lang="{{.Lang}}"><head><meta charset="utf-8"><title>{{.Class.Name}}</title><link rel="stylesheet" href="/style.css"><link rel="stylesheet" href="/class.css"><link rel="stylesheet" href="/print.css"></head>
<body data-place="results"><h1>{{.Class.Name}}</h1>
<p>{{.Date}}</p>
{{with .Incomplete}}<p class="class-alarm">{{.}}</p>
{{end}}<table><thead><tr><th scope="col">{{.Name}}</th>{{range .Heads}}<th scope="col">{{template "cell" .}}</th>{{end}}</tr></thead>
<tbody>{{range .Rows}}<tr><th scope="row">{{.Nickname}}</th>{{range .Cells}}<td>{{template "cell" .}}</td>{{end}}</tr>
{{end}}</tbody>
<tfoot><tr><th scope="row">{{.Mean}}</th>{{range .Means}}<td>{{.}}</td>{{end}}</tr></tfoot></table>
<p>{{.Note}}</p></body></html>
{{define "cell"}}{{.Text}}{{with .More}}<br><small>{{.}}</small>{{end}}{{end}}`))

type sheetRow struct {
	Nickname string
	Cells    []sheetCell
}

// sheetCell is how one drill went, and in small what is to be told of it besides.
type sheetCell struct{ Text, More string }

// resultsHTML is the page to print, in the language of the tag ?lang=; English without one.
func (r *Room) resultsHTML(a ask) error {
	w, drills, err := r.ofClass(&a)
	if err != nil {
		return err
	}
	all, err := choices()
	if err != nil {
		return err
	}
	lang := say.Named(a.q.URL.Query().Get("lang"))
	v := say.In(lang)
	cells := map[[2]int64]sheetCell{}
	over, marking := w.Class.Over(r.opt.NowMS()), 0
	for _, x := range w.Attempts {
		standing := x.Standing(over)
		cells[[2]int64{x.Member, x.Drill}] = sheetCell{Text: v.Text("class.status." + string(standing))}
		if standing == class.Marking {
			marking++
		}
	}
	for i := range w.Results {
		x := &w.Results[i]
		cells[[2]int64{x.Member, x.Drill}] = sheetCell{v.Number(x.Score, 1), wentAs(v, x)}
	}
	var heads []sheetCell
	var means []string
	board := class.Board(&w, r.opt.NowMS())
	for i := range drills {
		d := &drills[i]
		head := sheetCell{Text: fmt.Sprintf("%d. %s", d.Place, v.Title(d.Title, d.Titles))}
		if job := d.Job(); job != 0 {
			head.More = v.Text("sizing.seed-is", strconv.FormatUint(job, 10))
		}
		if c := callNamed(all, d.Ref); c != nil && d.Kind == class.Call {
			head.More = v.Text("report.true") + " " + class.Causes(c.Faults, causeIn(v))
		}
		heads, means = append(heads, head), append(means, meanOf(v, class.SumOf(d.ID, board)))
	}
	var rows []sheetRow
	for _, m := range w.Members {
		row := sheetRow{Nickname: m.Nickname}
		for _, d := range drills {
			cell := cells[[2]int64{m.ID, d.ID}]
			if !d.For(m.ID) {
				cell = sheetCell{Text: "–"}
			}
			row.Cells = append(row.Cells, cell)
		}
		rows = append(rows, row)
	}
	incomplete := ""
	if marking > 0 {
		incomplete = v.Text("sheet.incomplete", marking)
	}
	var out bytes.Buffer
	err = sheet.Execute(&out, map[string]any{
		"Lang": lang, "Class": a.class, "Date": time.UnixMilli(a.class.MadeMS).Format(time.DateOnly), "Name": v.Text("board.name"), "Heads": heads, "Rows": rows,
		"Mean": v.Text("sheet.mean"), "Means": means, "Note": v.Text("desk.sheet-note"), "Incomplete": incomplete,
	})
	if err != nil {
		return err
	}
	return a.send("text/html; charset=utf-8", out.Bytes())
}

// wentAs tells in short how a call went: what was named, in how many minutes, and how often
// somebody could have been hurt; "" of a drill that is no call.
func wentAs(v *say.Voice, x *class.Result) string {
	if x.Minutes == 0 {
		return ""
	}
	var parts []string
	if x.Named != "" {
		verdict := "board.wrong"
		if x.Right {
			verdict = "board.right"
		}
		parts = append(parts, v.Text(verdict)+" "+class.Causes(sim.VerdictIDs(x.Named), causeIn(v)))
	}
	parts = append(parts, v.Text("minutes", int(x.Minutes)))
	if x.Unsafe > 0 {
		parts = append(parts, v.Text("sheet.unsafe", x.Unsafe))
	}
	return strings.Join(parts, ", ")
}

// causeIn names causes in a language.
func causeIn(v *say.Voice) func(id string) string {
	return func(id string) string { return v.Sim(sim.FaultName(id)) }
}

// meanOf writes the mean score of a drill; "" where nobody was scored.
func meanOf(v *say.Voice, s class.Sum) string {
	if s.Scored == 0 {
		return ""
	}
	return v.Number(s.Mean, 1)
}

// export hands over all that is kept of a class.
func (r *Room) export(a ask) error {
	x, err := r.store.Export(a.q.Context(), a.class.ID)
	if err != nil {
		return err
	}
	a.w.Header().Set("Content-Disposition", fmt.Sprintf(`attachment; filename="class-%d.json"`, a.class.ID))
	return a.answer(x)
}

// of reads the member and the drill that a request of the instructor names.
func (r *Room) of(a *ask) (member int64, d class.Drill, err error) {
	if member, err = a.number("member"); err != nil {
		return 0, d, err
	}
	d, err = r.drill(a)
	return member, d, err
}

// recording hands over a call as far as it has come, to look at or to play again. The
// hash of a call that goes on is the server's own.
func (r *Room) recording(a ask) error {
	member, d, err := r.of(&a)
	if err != nil {
		return err
	}
	if d.Kind != class.Call {
		return errNone
	}
	at, err := r.store.Attempt(a.q.Context(), member, d.ID)
	if err != nil {
		return err
	}
	acts, err := r.store.Acts(a.q.Context(), member, d.ID, 0)
	if err != nil {
		return err
	}
	log := sim.Log{Ticks: at.Ticks}
	for i := range acts {
		log.Acts = append(log.Acts, acts[i].LogAct)
	}
	data, err := sim.Record(nameOf(&d), d.Body, d.Seed, &log)
	if err != nil {
		return &problem{http.StatusConflict, class.Diverged, err.Error()}
	}
	a.w.Header().Set("Content-Disposition", fmt.Sprintf(`attachment; filename="member-%d-drill-%d.msgp"`, member, d.ID))
	return a.send("application/octet-stream", data)
}

// memberLog hands over the log of a call from an act on (?from=N) as far as it has come,
// to look on at; from its beginning with the call itself.
func (r *Room) memberLog(a ask) error {
	member, d, err := r.of(&a)
	if err != nil {
		return err
	}
	if d.Kind != class.Call {
		return errNone
	}
	from, err := strconv.Atoi(a.q.URL.Query().Get("from"))
	if err != nil {
		from = 0
	}
	ctx := a.q.Context()
	t := class.Taken{Kind: d.Kind, Exam: d.Exam, Name: nameOf(&d), Seed: d.Seed}
	if t.Attempt, err = r.store.Attempt(ctx, member, d.ID); err != nil {
		return err
	}
	members, err := r.store.Members(ctx, a.class.ID)
	if err != nil {
		return err
	}
	for _, m := range members {
		if m.ID == member {
			t.Nickname = m.Nickname
		}
	}
	if from == 0 {
		t.Body = d.Body
	}
	t.Acts, err = r.actsOf(ctx, member, d.ID, from)
	if err != nil {
		return err
	}
	return a.answer(t)
}

func (r *Room) staffReport(a ask) error {
	member, d, err := r.of(&a)
	if err != nil {
		return err
	}
	return r.report(&a, member, d.ID)
}
