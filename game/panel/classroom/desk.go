//go:build js

package classroom

import (
	"errors"
	"strconv"
	"syscall/js"

	"brinebench/game"
	"brinebench/game/class"
	"brinebench/game/dom"
	"brinebench/game/panel/attend"
	"brinebench/game/say"
)

// desk is the instructor's page.
type desk struct {
	choices []class.Choice
	plan    []class.Wanted // drills of a class that is yet to be made
	once    string         // by which the server knows that it is asked again to make it
	room    *room          // the class that is open, nil for the list
	asked   int64          // the class that the address names, until it is open; 0 for none
}

// tick lets the clock of the class that is open go on.
func (d *desk) tick() {
	if d.room != nil && dom.Document.Call("getElementById", "state").Truthy() {
		d.room.tick()
	}
}

// OpenDesk opens the instructor's page.
func OpenDesk() error {
	d := &desk{}
	d.ask()
	dom.ShowLook(dom.FirstLook())
	dom.Switches(func(game.Look) {
		speakLine()
		go d.load()
	})
	d.load()
	js.Global().Call("setInterval", js.FuncOf(func(js.Value, []js.Value) any { d.tick(); return nil }), 500)
	js.Global().Set("brinebenchReady", true)
	return nil
}

// ask takes the class that the address names, ?class=N, or ?wall=N for the wall.
func (d *desk) ask() {
	d.asked, _ = strconv.ParseInt(dom.Query("class"), 10, 64)
	if id, err := strconv.ParseInt(dom.Query("wall"), 10, 64); err == nil {
		d.asked = id
		project(true)
	}
}

// load asks who is here, and shows what they may see.
func (d *desk) load() {
	var who struct{ First, In bool }
	if err := attend.Ask("GET", "desk", nil, &who); err != nil {
		if attend.WordOf(err) == "none" {
			become(dom.El("h2", nil, say.Text("desk.title")), dom.El("p", nil, say.Text("desk.none")))
			return
		}
		complain(err)
		return
	}
	complain(nil)
	switch {
	case who.First:
		d.door("first", say.Text("desk.first"), "desk/password", user(), dom.El("p", nil, say.Text("desk.first-words")),
			field(say.Text("desk.setup"), "setup", dom.Attrs{"required": "", "maxlength": "30", "autocapitalize": "characters"}),
			secret(say.Text("desk.password"), "password", "new-password"))
	case !who.In:
		d.door("sign-in", say.Text("desk.sign-in"), "desk/in", user(), secret(say.Text("desk.password"), "password", "current-password"))
	case d.room != nil:
		d.room.fill()
	case d.asked != 0:
		id := d.asked
		d.asked = 0
		if err := d.open(id); err != nil { // it is no more
			project(false)
			complain(errors.Join(d.list(), err))
		}
	default:
		complain(d.list())
	}
}

// user is a field that nobody sees: password managers look for one.
func user() dom.Node {
	return dom.El("input", dom.Attrs{"type": "text", "value": "instructor", "autocomplete": "username", "hidden": ""})
}

func secret(label, name, complete string) dom.Node {
	return field(label, name, dom.Attrs{"type": "password", "required": "", "minlength": "10", "maxlength": "200", "autocomplete": complete})
}

// door shows a form that lets the instructor in, beside the way in for trainees.
func (d *desk) door(name, title, path string, fields ...dom.Node) {
	in := dom.El("section", nil, dom.El("h2", nil, title), form(name, say.Text("desk.go"), fields, func(v map[string]string) error {
		err := attend.Ask("POST", path, v, nil)
		if err == nil {
			d.load()
		}
		return err
	}))
	become(dom.El("div", dom.Attrs{"class": "class-doors"},
		dom.El("section", nil, dom.El("h2", nil, say.Text("join.title")), dom.El("p", nil, say.Text("desk.trainee")),
			dom.El("p", nil, dom.El("a", dom.Attrs{"href": "join.html", "class": "push"}, say.Text("desk.to-join")))), in))
}

// list shows the classes and lets one be made.
func (d *desk) list() error {
	var classes []class.Class
	if err := attend.Ask("GET", "classes", nil, &classes); err != nil {
		return err
	}
	if d.choices == nil {
		if err := attend.Ask("GET", "catalogue", nil, &d.choices); err != nil {
			return err
		}
	}
	if d.room != nil { // opened while the server was asked
		return nil
	}
	all := dom.El("ul", dom.Attrs{"class": "class-list"})
	for _, c := range classes {
		b := dom.Button(c.Name, dom.Attrs{"data-class": strconv.FormatInt(c.ID, 10)})
		b.On("click", func(js.Value) { go func() { complain(d.open(c.ID)) }() })
		state := say.Text("desk.code-is", c.Code)
		if c.EndMS != 0 {
			state = say.Text("desk.has-ended", day(c.EndMS))
		}
		all.Add(dom.El("li", nil, b, dom.El("span", nil, state)))
	}
	here := any(all)
	if len(classes) == 0 {
		here = dom.El("p", nil, say.Text("desk.no-class"))
	}
	kept := typedNow()
	become(dom.El("h2", nil, say.Text("desk.classes")), here, d.makeForms(), d.keysForm())
	kept.restore()
	return nil
}

// day is a day and time, of ms since 1970 UTC.
func day(ms int64) string {
	return js.Global().Get("Date").New(float64(ms)).Call("toLocaleDateString", string(say.Spoken()), map[string]any{"dateStyle": "medium"}).String() + ", " + attend.Clock(ms)
}

// keysForm is for the password, the copy of all data, and the way out.
func (d *desk) keysForm() dom.Node {
	return dom.El("details", dom.Attrs{"class": "fold"}, dom.El("summary", nil, say.Text("desk.keys")),
		form("password", say.Text("desk.change"), []dom.Node{
			user(), secret(say.Text("desk.password-old"), "password", "current-password"), secret(say.Text("desk.password-new"), "next", "new-password"),
		}, func(v map[string]string) error { return attend.Ask("POST", "desk/change", v, nil) }),
		dom.El("div", dom.Attrs{"class": "pushes"},
			dom.El("a", dom.Attrs{"class": "push", "href": "/api/desk/backup", "download": ""}, say.Text("desk.backup")),
			do(say.Text("desk.out"), "out", func() error {
				if err := attend.Ask("POST", "desk/out", nil, nil); err != nil {
					return err
				}
				d.load()
				return nil
			})))
}

// open shows a class and watches it.
func (d *desk) open(id int64) error {
	r := &room{desk: d, rows: map[int64]*line{}}
	if err := attend.Ask("GET", "classes/"+strconv.FormatInt(id, 10), nil, &r.class); err != nil {
		return err
	}
	d.room = r
	r.fill()
	r.stream = attend.Listen(r.path("events"), map[string]func(data []byte){"board": r.heard}, showLine)
	return nil
}

// close goes back to the list.
func (d *desk) close() error {
	d.room.stream.Call("close")
	d.room = nil
	dom.ByID("line").Call("removeAttribute", "data-line")
	dom.ByID("line").SetText("")
	js.Global().Get("history").Call("replaceState", nil, "", "class.html") // it names the class no more
	return d.list()
}

// showLine says how the connection is.
func showLine(on bool) {
	word := "off"
	if on {
		word = "on"
	}
	dom.ByID("line").SetAttr("data-line", word)
	speakLine()
}

// speakLine says it again, in another language; nothing where there is none.
func speakLine() {
	if l := dom.ByID("line"); l.Data("line") != "" {
		l.SetText(say.Text("class.line." + l.Data("line")))
	}
}
