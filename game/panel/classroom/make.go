//go:build js

package classroom

import (
	"fmt"
	"strconv"
	"strings"
	"syscall/js"

	"brinebench/game/class"
	"brinebench/game/dom"
	"brinebench/game/panel/attend"
	"brinebench/game/say"
	"brinebench/sim"
)

// makeForms plan a class: its drills one by one, then its name and time.
func (d *desk) makeForms() dom.Node {
	d.once = class.NewOnce()
	planned := dom.El("ol", dom.Attrs{"id": "plan", "class": "class-plan"})
	d.fillPlan(planned)
	return dom.El("section", nil, dom.El("h2", nil, say.Text("desk.new")),
		dom.El("h3", nil, say.Text("desk.step-drills")), d.drillForm("add", say.Text("desk.add"), func(w class.Wanted) error {
			d.plan = append(d.plan, w)
			d.fillPlan(planned)
			return nil
		}), planned,
		dom.El("h3", nil, say.Text("desk.step-class")), form("make", say.Text("desk.make"), []dom.Node{
			field(say.Text("desk.name"), "name", dom.Attrs{"required": "", "maxlength": "40"}),
			field(say.Text("desk.minutes"), "minutes", dom.Attrs{"type": "number", "min": "0", "max": "1440", "value": "60", "inputmode": "numeric"}),
		}, d.make))
}

func (d *desk) fillPlan(list dom.Node) {
	list.Become()
	if len(d.plan) == 0 {
		list.Add(dom.El("li", dom.Attrs{"class": "none"}, say.Text("desk.no-drill")))
	}
	for i, w := range d.plan {
		b := dom.Button(say.Text("desk.remove"), dom.Attrs{"aria-label": say.Text("desk.remove-this", d.wantedName(&w))})
		b.On("click", func(js.Value) {
			d.plan = append(d.plan[:i:i], d.plan[i+1:]...)
			complain(nil)
			d.fillPlan(list)
		})
		list.Add(dom.El("li", nil, dom.El("span", nil, d.wantedName(&w)), b))
	}
}

// wantedName says what a drill will be.
func (d *desk) wantedName(w *class.Wanted) string {
	name := say.Text("desk.kind." + string(w.Kind))
	switch {
	case w.Ref != "":
		name += ": " + d.titleOf(w.Kind, w.Ref)
	case w.Kind == class.Sizing && w.Seed != 0:
		name += ": " + jobIs(w.Seed)
	case w.Rung[1] > 0:
		name += ": " + say.Text("desk.drawn-rung", w.Rung[0])
	default:
		name += ": " + say.Text("desk.drawn")
	}
	if w.Fault != "" {
		name += ", " + say.Text("desk.with-fault", say.Sim(sim.FaultName(w.Fault)))
	}
	if w.Exam {
		name += ", " + say.Text("desk.as-exam")
	}
	return name
}

func (d *desk) titleOf(kind class.Kind, ref string) string {
	for _, c := range d.choices {
		if c.Kind == kind && c.Ref == ref {
			return say.Title(c.Title, c.Titles)
		}
	}
	return ref
}

// fillFaults lists the faults of those calls that one is drawn from; one that is named has
// its own. What was chosen stays where it is to be had.
func (d *desk) fillFaults(list dom.Node, w class.Wanted) {
	chosen := list.Get("value").String()
	list.Become(option("", say.Text("desk.any-fault")))
	for _, f := range sim.Faults() {
		if w.Fault = f.ID; len(w.Calls(d.choices)) > 0 {
			list.Add(option(f.ID, say.Sim(f.Name)))
		}
		if f.ID == chosen && len(w.Calls(d.choices)) > 0 {
			list.Value.Set("value", chosen)
		}
	}
}

// drillForm asks for one drill, with fields of its own.
func (d *desk) drillForm(name, send string, take func(class.Wanted) error, fields ...dom.Node) dom.Node {
	kind := dom.El("select", dom.Attrs{"name": "kind"})
	for _, k := range []class.Kind{class.Call, class.Sequence, class.Sizing} {
		kind.Add(option(string(k), say.Text("desk.kind."+string(k))))
	}
	which, faults := dom.El("select", dom.Attrs{"name": "which"}), dom.El("select", dom.Attrs{"name": "fault"})
	fault, rungs := labelled(say.Text("desk.fault"), faults), dom.El("p", dom.Attrs{"class": "class-note"}, say.Text("desk.rungs"))
	job := field(say.Text("desk.job"), "job", dom.Attrs{"type": "number", "min": "1", "max": strconv.Itoa(class.MostJob), "step": "1", "inputmode": "numeric"})
	asks := dom.El("p", dom.Attrs{"class": "class-note", "data-asks": ""})
	value := func(n dom.Node) string { return n.Get("value").String() }
	fit := func() {
		w := wanted(value(kind), value(which))
		d.fillFaults(faults, w)
		fault.Hide(w.Kind != class.Call || w.Ref != "")
		rungs.Hide(w.Kind != class.Call)
		if job.Hide(w.Kind != class.Sizing); w.Kind != class.Sizing {
			dom.Wrap(job.Call("querySelector", "input")).Value.Set("value", "") // a wrong one would be told of nowhere
		}
		asks.SetText(d.asksOf(&w))
		asks.Hide(w.Kind != class.Sequence)
	}
	d.fillWhich(which, class.Call)
	fit()
	kind.On("change", func(js.Value) {
		d.fillWhich(which, class.Kind(value(kind)))
		fit()
	})
	which.On("change", func(js.Value) { fit() })
	fields = append([]dom.Node{labelled(say.Text("desk.kind"), kind), labelled(say.Text("desk.which"), which), job, fault}, fields...)
	fields = append(fields, field(say.Text("desk.exam"), "exam", dom.Attrs{"type": "checkbox", "value": "yes"}), rungs, asks)
	f := form(name, send, fields, func(v map[string]string) error {
		w := wanted(v["kind"], v["which"])
		w.Exam = v["exam"] != ""
		w.Member, _ = strconv.ParseInt(v["to"], 10, 64) // 0 where nobody is asked
		if w.Kind == class.Call && w.Ref == "" {
			w.Fault = v["fault"]
		}
		if w.Kind == class.Sizing {
			w.Seed, _ = strconv.ParseUint(v["job"], 10, 64) // the field takes nothing else
		}
		return take(w)
	})
	f.On("change", func(js.Value) { complain(nil) }) // what was wrong was wrong with another choice
	return f
}

// asksOf says how many questions a sequence drill has, and of what kinds; "" of another.
func (d *desk) asksOf(w *class.Wanted) string {
	all, kinds := 0, []string{}
	for _, c := range d.choices {
		if c.Kind != w.Kind || c.Ref != w.Ref {
			continue
		}
		for _, a := range c.Asks {
			all += a.N
			kinds = append(kinds, fmt.Sprintf("%s: %d", say.Text("cycle.kind."+string(a.Kind)), a.N))
		}
	}
	if all == 0 {
		return ""
	}
	return say.Text("desk.asks", all, strings.Join(kinds, "; "))
}

// wanted is what is chosen of a kind: drawn, drawn from a rung, or named.
func wanted(kind, which string) class.Wanted {
	w := class.Wanted{Kind: class.Kind(kind)}
	if _, err := fmt.Sscanf(which, "rung %d", &w.Rung[0]); err == nil {
		w.Rung[1] = w.Rung[0]
	} else {
		w.Ref = which
	}
	return w
}

// fillWhich lists what a drill of a kind can be: drawn, drawn from a rung, or named.
func (d *desk) fillWhich(list dom.Node, kind class.Kind) {
	list.Become()
	if kind != class.Sequence {
		list.Add(option("", say.Text("desk.drawn")))
	}
	rung, group := -1, list
	for _, c := range d.choices {
		if c.Kind != kind {
			continue
		}
		if kind == class.Call && c.Rung != rung {
			rung = c.Rung
			group = dom.El("optgroup", dom.Attrs{"label": say.Text("practice.rung", rung)})
			group.Add(option("rung "+strconv.Itoa(rung), say.Text("desk.drawn-rung", rung)))
			list.Add(group)
		}
		group.Add(option(c.Ref, say.Title(c.Title, c.Titles)))
	}
}

// which names the drill of the plan that cannot be made.
func (d *desk) which(err error) error {
	for i, w := range d.plan {
		if attend.WordOf(err) == "fault" && len(w.Calls(d.choices)) == 0 {
			return attend.Said(say.Text("desk.bad-drill", i+1, d.wantedName(&w)))
		}
	}
	return err
}

// make makes the class that was planned and opens it.
func (d *desk) make(v map[string]string) error {
	minutes, _ := strconv.Atoi(v["minutes"]) // the field takes nothing else
	plan := d.plan
	if plan == nil {
		plan = []class.Wanted{}
	}
	var made class.Shown
	if err := attend.Ask("POST", "classes", map[string]any{"name": v["name"], "minutes": minutes, "drills": plan, "once": d.once}, &made); err != nil {
		return d.which(err)
	}
	d.plan = nil
	return d.open(made.ID)
}
