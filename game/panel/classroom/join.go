//go:build js

package classroom

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"syscall/js"

	"brinebench/game"
	"brinebench/game/class"
	"brinebench/game/dom"
	"brinebench/game/panel/attend"
	"brinebench/game/say"
)

// joiner is the page on which a trainee joins and picks a drill.
type joiner struct {
	me     *class.Mine   // nil before
	token  string        // of this device's place
	heard  *attend.Heard // nil before
	stream js.Value

	aheadMS int64 // the server's clock before the browser's
	over    bool  // the class was over when the page was last filled
}

// tokenKey is where the browser keeps the token, to be shown and typed elsewhere.
const tokenKey = "class-token"

// OpenJoin opens the page.
func OpenJoin() error {
	j := &joiner{token: dom.Recall(tokenKey)}
	dom.ShowLook(dom.FirstLook())
	dom.Switches(func(game.Look) {
		speakLine()
		j.show()
	})
	j.load()
	js.Global().Set("brinebenchReady", true)
	return nil
}

// load asks how the class stands.
func (j *joiner) load() {
	if j.token == "" { // nobody has been here on this device
		j.show()
		return
	}
	me := new(class.Mine)
	err := attend.Ask("GET", "me", nil, me)
	switch {
	case err == nil:
		j.me, j.aheadMS = me, me.NowMS-attend.NowMS()
		if j.heard == nil {
			j.heard = attend.NewHeard("heard", me)
		}
		j.heard.Take(me.Heard...)
		j.show()
		j.listen()
	case attend.WordOf(err) == "join":
		j.me = nil
		j.show()
		return
	default:
		j.show()
	}
	complain(err)
}

func (j *joiner) listen() {
	if !j.stream.IsUndefined() {
		return
	}
	hear := j.heard.Listeners()
	again := func([]byte) { go j.load() }
	every := func(ms int, f func()) {
		js.Global().Call("setInterval", js.FuncOf(func(js.Value, []js.Value) any { f(); return nil }), ms)
	}
	every(15_000, func() { go j.here() })
	every(500, j.tick)
	for _, kind := range []string{"freeze", "thaw", "extend", "drill", "end"} {
		hear[kind] = again
	}
	j.stream = attend.Listen("me/events?after="+strconv.FormatInt(j.me.Seq, 10), hear, showLine)
}

func (j *joiner) nowMS() int64 { return attend.NowMS() + j.aheadMS }

// tick looks at the clock: time may be up.
func (j *joiner) tick() {
	if j.me == nil {
		return
	}
	if j.me.Class.Over(j.nowMS()) != j.over {
		j.show()
	}
	dom.ByID("state").SetText(j.standing())
}

// standing says how the class stands.
func (j *joiner) standing() string {
	c := &j.me.Class.Class
	text := attend.TimeLeft(c, j.nowMS())
	switch {
	case c.EndMS != 0 && j.me.ToldMS > j.nowMS() && j.exam():
		text += " " + say.Text("join.told", attend.Clock(j.me.ToldMS))
	case c.Frozen:
		text = say.Text("class.frozen") + " " + text
	}
	return text
}

// exam reports whether a drill is one.
func (j *joiner) exam() bool {
	return slices.ContainsFunc(j.me.Class.Drills, func(d class.Drill) bool { return d.Exam })
}

// here tells the server that somebody is here, and asks what has become of drills that
// were handed in.
func (j *joiner) here() {
	attend.Ask("POST", "me/here", nil, nil) // the line says it where there is no answer
	if j.me == nil {
		return
	}
	if j.waits() {
		j.load()
	}
}

// waits reports whether the server is still to tell what has become of something.
func (j *joiner) waits() bool {
	told := map[int64]bool{}
	for _, s := range j.me.Scores {
		told[s.Drill] = true
	}
	for _, a := range j.me.Attempts {
		if a.Status == class.Handed || a.Status == class.Scored && !told[a.Drill] || a.Status == class.Going && j.over {
			return true
		}
	}
	return false
}

func (j *joiner) show() {
	if j.me == nil {
		j.door()
		return
	}
	m := j.me
	j.over = m.Class.Over(j.nowMS())
	list := dom.El("ol", dom.Attrs{"class": "class-drills"})
	for i := range m.Class.Drills {
		list.Add(j.line(&m.Class.Drills[i]))
	}
	j.heard.Fill()
	body := []any{
		dom.El("h2", dom.Attrs{"id": "class-name"}, m.Class.Name), dom.El("p", nil, say.Text("join.you-are", m.Member.Nickname)), dom.El("p", dom.Attrs{"id": "on-wall"}, say.Text("join.on-wall", attend.OnWall(m.Number))),
		dom.El("p", dom.Attrs{"id": "state"}, j.standing()), j.heard.Box, dom.El("h3", nil, say.Text("join.drills")), list,
	}
	if len(m.Class.Drills) == 0 {
		body = append(body, dom.El("p", dom.Attrs{"class": "none"}, say.Text("join.no-drill")))
	}
	if j.token != "" {
		body = append(body, dom.El("h3", nil, say.Text("join.again")), dom.El("p", nil, say.Text("join.token")), dom.El("p", dom.Attrs{"id": "token", "class": "class-address"}, j.token))
	}
	become(append(body, dom.El("div", dom.Attrs{"class": "pushes"}, do(say.Text("join.leave"), "leave", j.leave)))...)
}

func (j *joiner) leave() error {
	if !js.Global().Call("confirm", say.Text("join.leave-sure")).Bool() {
		return nil
	}
	if err := attend.Ask("POST", "me/out", nil, nil); err != nil {
		return err
	}
	dom.Forget(tokenKey)
	attend.Forget()
	js.Global().Get("location").Set("href", "join.html")
	return nil
}

// pages open a drill, by its kind.
var pages = map[class.Kind]string{class.Call: "./", class.Sequence: "sequence.html", class.Sizing: "sizing.html"}

// line is a drill of the list: it opens it, to be done or to be looked at.
func (j *joiner) line(d *class.Drill) dom.Node {
	var status, standing class.Status
	for _, a := range j.me.Attempts {
		if a.Drill == d.ID {
			status, standing = a.Status, a.Standing(j.over)
		}
	}
	item := dom.El("li", dom.Attrs{"data-drill": strconv.FormatInt(d.ID, 10), "data-status": string(status)})
	name := dom.El("div", nil, dom.El("strong", nil, titleOf(d)), dom.El("small", nil, say.Text("desk.kind."+string(d.Kind))))
	words := ""
	if status != "" {
		words = say.Text("class.status." + string(standing))
	}
	for _, s := range j.me.Scores {
		if s.Drill == d.ID {
			words = say.Text("join.score", say.Number(math.Round(s.Score), 0))
		}
	}
	name.Add(dom.El("span", nil, words))
	item.Add(name)
	switch label := j.way(d, status); {
	case label == "join.begin" && (j.me.Class.Waits() || j.me.Class.Frozen):
		begin := dom.Button(say.Text(label), dom.Attrs{"aria-describedby": "state"}) // #state tells what is waited for
		begin.Disable(true)
		item.Add(begin)
		if j.me.Class.Frozen {
			name.Add(dom.El("small", nil, say.Text("join.frozen")))
		}
	case label != "":
		item.Add(dom.El("a", dom.Attrs{"class": "push", "href": fmt.Sprintf("%s?drill=%d", pages[d.Kind], d.ID)}, say.Text(label)))
	}
	return item
}

// titleOf is a drill's title; of an exam that is not told of yet, its number.
func titleOf(d *class.Drill) string {
	if d.Exam && d.Ref == "" {
		return say.Text("join.exam", d.Place)
	}
	return say.Title(d.Title, d.Titles)
}

// way is the label of the link that opens a drill, "" where it cannot be opened.
func (j *joiner) way(d *class.Drill, status class.Status) string {
	switch {
	case status == "" && j.over, status == class.Refused:
		return ""
	case status == "":
		return "join.begin"
	case status == class.Going && !j.over:
		return "join.go-on"
	}
	return "join.look"
}

// door asks for code and name, or for the token of who was here before.
func (j *joiner) door() {
	once := class.NewOnce()
	enter := func(path string, value any) error {
		var w struct{ Token string }
		if err := attend.Ask("POST", path, value, &w); err != nil {
			return err
		}
		j.token = w.Token
		dom.Keep(tokenKey, w.Token)
		j.load()
		return nil
	}
	become(dom.El("div", dom.Attrs{"class": "class-doors"},
		dom.El("section", nil, dom.El("h2", nil, say.Text("join.title")),
			form("join", say.Text("join.go"), []dom.Node{
				field(say.Text("join.code"), "code", dom.Attrs{"required": "", "value": dom.Query("code"), "maxlength": "12", "autocapitalize": "characters"}),
				field(say.Text("join.nickname"), "nickname", dom.Attrs{"required": "", "maxlength": "40"}),
			}, func(v map[string]string) error {
				return enter("join", map[string]string{"code": v["code"], "nickname": v["nickname"], "once": once})
			}),
			dom.El("p", dom.Attrs{"class": "class-note"}, say.Text("join.nickname-note"))),
		dom.El("section", nil, dom.El("h2", nil, say.Text("join.again")), dom.El("p", nil, say.Text("join.again-words")),
			form("token", say.Text("join.back"), []dom.Node{
				field(say.Text("join.token-field"), "token", dom.Attrs{"required": "", "maxlength": "24", "value": j.token, "autocapitalize": "characters"}),
			}, func(v map[string]string) error { return enter("resume", map[string]string{"token": v["token"]}) }),
			dom.El("p", nil, dom.El("a", dom.Attrs{"href": "class.html"}, say.Text("join.instructor"))))))
}
