//go:build js

package attend

import (
	"fmt"
	"strings"
	"syscall/js"

	"brinebench/game"
	"brinebench/game/class"
	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// Watch is somebody else's call, which the instructor looks at while it goes on, or
// after.
type Watch struct {
	Taken class.Taken
	path  string
	log   sim.Log
	lived bool // the page has come to the log's end
	box   dom.Node
}

// watchEveryMS is between two looks for what is new.
const watchEveryMS = 2000

// OpenWatch opens the call that a place names: class, member and drill, with dots between.
func OpenWatch(place string) (*Watch, error) {
	ids := strings.Split(place, ".")
	if len(ids) != 3 {
		return nil, &Trouble{Word: "none"}
	}
	w := &Watch{path: fmt.Sprintf("classes/%s/members/%s/drills/%s/log", ids[0], ids[1], ids[2])}
	if err := Ask("GET", w.path, nil, &w.Taken); err != nil {
		return nil, err
	}
	w.take(&w.Taken)
	return w, nil
}

func (w *Watch) take(t *class.Taken) {
	for i := range t.Acts {
		w.log.Acts = append(w.log.Acts, t.Acts[i].Act())
	}
	w.lived = w.lived && len(t.Acts) == 0 && t.Attempt.Ticks <= w.log.Ticks
	w.log.Ticks = max(w.log.Ticks, t.Attempt.Ticks)
	w.Taken.Attempt = t.Attempt
}

// Log is the log as far as it has come.
func (w *Watch) Log() *sim.Log { return &w.log }

// Begin shows who is watched and goes on looking.
func (w *Watch) Begin() {
	w.box = dom.El("div", dom.Attrs{"id": "class-strip", "data-line": "watch"})
	dom.All("header.top")[0].Add(w.box)
	w.Speak()
	js.Global().Call("setInterval", js.FuncOf(func(js.Value, []js.Value) any {
		go w.look()
		return nil
	}), watchEveryMS)
}

func (w *Watch) look() {
	if w.Taken.Attempt.Status != class.Going {
		return
	}
	var t class.Taken
	if Ask("GET", fmt.Sprintf("%s?from=%d", w.path, len(w.log.Acts)), nil, &t) == nil {
		w.take(&t)
	}
}

// Speak says all of it again, in another language.
func (w *Watch) Speak() {
	w.box.Become(dom.El("a", dom.Attrs{"href": "class.html"}, say.Text("watch.back")), dom.El("strong", nil, w.Taken.Nickname), dom.El("span", nil, say.Text("watch.words")))
}

// Stops says that nothing can be done at somebody else's unit.
func (w *Watch) Stops() string { return say.Text("watch.only") }

// Withheld reports that nothing is.
func (w *Watch) Withheld() bool { return false }

// Note lives on as far as the log goes.
func (w *Watch) Note(g *game.Game) {
	const sliceS = 0.01
	if w.lived || g.Scrub() != nil {
		return
	}
	done, err := g.LiveOn(&w.log, sliceS)
	w.lived = done == 1 || err != nil
}
