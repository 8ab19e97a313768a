//go:build js

package sizing

import (
	"encoding/json"
	"syscall/js"

	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/game/sizing"
	"brinebench/sim"
)

// fillAnswer asks every figure of the answer.
func (p *page) fillAnswer() {
	answer := p.Answer()
	form := dom.ByID(answerForm)
	form.Become(dom.El("p", dom.Attrs{"class": "none"}, say.Text("sizing.answer-note")), dom.El("p", dom.Attrs{"id": "filled", "class": "none"}),
		dom.El("p", dom.Attrs{"id": answerForm + "-over", "class": "refused", "hidden": ""}),
		dom.El("div", dom.Attrs{"id": answerForm + "-troubles", "role": "alert"}))
	for _, g := range sizing.AnswerGroups(&p.Job) {
		fields := dom.El("div", dom.Attrs{"class": "fields"})
		switch g.Choice {
		case "tank":
			options := []string{"", say.Text("sizing.open")}
			for _, t := range p.Job.Tanks {
				options = append(options, t.ID, say.Sim(t.Name[p.system()]))
			}
			fields.Add(choice(answerForm, "tank", say.Text("sizing.tank"), answer.Chosen["tank"], options...))
		case "program":
			options := []string{"", say.Text("sizing.open")}
			for _, id := range p.Job.Programs {
				options = append(options, id, say.Sim(sizing.ProgramName(id)))
			}
			fields.Add(choice(answerForm, "program", say.Text("sizing.program"), answer.Chosen["program"], options...))
		}
		for _, id := range g.Figures {
			fields.Add(p.field(answerForm, &answer, sizing.Figure(&p.Job, id), sizing.FigureName(&p.Job, id)))
		}
		form.Add(dom.El("fieldset", nil, dom.El("legend", nil, say.Text("sizing.group."+g.ID, points(g.Points(&p.Job)))), fields))
	}
	form.Add(dom.El("div", dom.Attrs{"class": "pushes"}, dom.Button(p.markLabel(), dom.Attrs{"class": "main", "data-desk": "mark"})))
	p.fillFilled()
	p.tellTroubles(answerForm)
	if p.drill != nil && p.drill.Attended() {
		p.stand()
	}
}

// fillFilled tells how much is answered.
func (p *page) fillFilled() {
	answer := p.Answer()
	dom.ByID("filled").SetText(say.Text("sizing.filled", answer.Filled(&p.Job), len(p.Job.Figures)))
}

// mark sends the answer off to live for 90 days.
func (p *page) mark() {
	answer := p.Answer()
	text, list := answer.Answer(&p.Job)
	if list != nil {
		p.refuse(answerForm, list)
		return
	}
	delete(p.troubles, answerForm)
	p.tellTroubles(answerForm)
	if p.drill != nil {
		if p.sure(answer.Filled(&p.Job)) {
			go p.handIn(text)
		}
		return
	}
	packed, err := sim.PackSizing(p.Job.JSON, text)
	if err != nil {
		panic("sizing: " + err.Error()) // both were checked
	}
	p.send("size", packed)
	p.fillMarks()
	p.show("marks")
	focus("marks-h")
}

// send gives the worker a job.
func (p *page) send(job string, packed []byte) {
	p.stop()
	delete(p.failures, job)
	p.running, p.begunMS = job, nowMS()
	p.errand.Start(job, packed, p.heard, func(text string) { p.failed(job, text) })
}

// heard takes what the worker says.
func (p *page) heard(message js.Value) {
	if v := message.Get("progress"); !v.IsUndefined() {
		for _, bar := range dom.All("#living-bar") {
			bar.Value.Set("value", v.Float())
		}
		return
	}
	if v := message.Get("error"); !v.IsUndefined() {
		p.failed(p.running, v.String())
		return
	}
	job := p.running
	text := message.Get(job).String()
	took := nowMS() - p.begunMS
	p.stop()
	if job == "size" {
		if err := p.SetMarks([]byte(text)); err != nil {
			p.failed(job, err.Error())
			return
		}
		p.markMS = took
		p.solved[p.Key()] = true
		p.fillMarks()
		p.stale["worked"] = true
		m, _ := p.MarksNow()
		p.say(say.Text("sizing.scored", points(m.Score)))
		focus("marks-h")
	} else {
		u := p.Setup(p.demand)
		u.Marks = &sim.SizingSetupMarks{}
		if err := json.Unmarshal([]byte(text), u.Marks); err != nil {
			p.failed(job, err.Error())
			return
		}
		p.setupMS = took
		p.SetSetup(u)
		p.fillSet()
		p.say(say.Text("sizing.scored", points(u.Marks.Score)))
		focus("set-marks-h")
	}
	p.keep()
}

// failed tells what kept the worker from the answer to a job, in the section of that job.
func (p *page) failed(job, text string) {
	p.stop()
	p.failures[job] = text
	p.fillResult(job)
}

// stop leaves off what the worker is at.
func (p *page) stop() {
	if p.running == "" {
		return
	}
	job := p.running
	p.errand.End()
	p.running = ""
	p.fillResult(job)
}

// fillResult makes anew the section that shows what came of a job of the worker.
func (p *page) fillResult(job string) {
	if job == "set" {
		p.fillSet()
	} else {
		p.fillMarks()
	}
}

// living shows that the units live, and lets one leave off.
func living() dom.Node {
	return dom.El("div", dom.Attrs{"class": "living"}, dom.El("p", dom.Attrs{"id": "living-text", "role": "status"}, say.Text("sizing.living")),
		dom.El("progress", dom.Attrs{"id": "living-bar", "max": "1", "value": "0", "aria-labelledby": "living-text"}),
		dom.El("div", dom.Attrs{"class": "pushes"}, dom.Button(say.Text("stop"), dom.Attrs{"data-desk": "stop"})))
}

func trouble(text string) dom.Node {
	return dom.El("div", dom.Attrs{"class": "refused", "role": "alert"}, dom.El("p", nil, say.Text("sizing.failed")), dom.El("p", nil, dom.El("small", nil, text)))
}

func nowMS() float64 { return js.Global().Get("performance").Call("now").Float() }

// points writes points, to a tenth where they are not whole.
func points(x float64) string {
	if r := float64(int(x*10+0.5)) / 10; r != float64(int(r)) {
		return say.Number(r, 1)
	}
	return say.Number(x, 0)
}
