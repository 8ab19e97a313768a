//go:build js

package attend

import (
	"encoding/json"
	"fmt"
	"slices"
	"syscall/js"

	"brinebench/game/class"
	"brinebench/game/dom"
	"brinebench/game/say"
)

// Heard is what the instructor has told somebody, a list on the page: each message stays
// until it is closed, on this device, and comes back with the page.
type Heard struct {
	Box    dom.Node
	member int64
	list   []class.Event // in the order they were told
	closed []int64       // their numbers
}

// NewHeard makes the list of what a member was told, with an id for the page.
func NewHeard(id string, m *class.Mine) *Heard {
	h := &Heard{Box: dom.El("div", dom.Attrs{"id": id, "class": "heard", "role": "status"}), member: m.Member.ID}
	if json.Unmarshal([]byte(dom.Recall(h.key())), &h.closed) != nil {
		h.closed = nil
	}
	h.Take(m.Heard...)
	return h
}

func (h *Heard) key() string { return fmt.Sprintf("closed-%d", h.member) }

// Take takes messages, each once.
func (h *Heard) Take(list ...class.Event) {
	for _, e := range list {
		same := func(o class.Event) bool { return o.Seq == e.Seq }
		if !slices.ContainsFunc(h.list, same) && !slices.Contains(h.closed, e.Seq) {
			h.list = append(h.list, e)
		}
	}
	h.Fill()
}

// Fill writes the list, anew in another language.
func (h *Heard) Fill() {
	h.Box.Become()
	if len(h.list) == 0 {
		return
	}
	list := dom.El("ul", nil)
	for _, e := range h.list {
		closing := dom.Button(say.Text("close"), nil)
		closing.On("click", func(js.Value) { h.close(e.Seq) })
		list.Add(dom.El("li", dom.Attrs{"data-heard": string(e.Kind)}, words(&e), closing))
	}
	h.Box.Add(list)
}

// words are what was told; of a drill that was given, that it is there, with the way to it.
func words(e *class.Event) dom.Node {
	if e.Kind == class.Added {
		return dom.El("p", nil, say.Text("class.heard.drill")+" ", dom.El("a", dom.Attrs{"href": "join.html"}, say.Text("class.to-drills")))
	}
	return dom.El("p", nil, dom.El("strong", nil, say.Text("class.heard."+string(e.Kind))), " "+e.Text)
}

func (h *Heard) close(seq int64) {
	h.list = slices.DeleteFunc(h.list, func(e class.Event) bool { return e.Seq == seq })
	h.closed = append(h.closed, seq)
	if text, err := json.Marshal(h.closed); err == nil {
		dom.Keep(h.key(), string(text))
	}
	h.Fill()
}

// Listeners are handlers for Listen that take each message.
func (h *Heard) Listeners() map[string]func(data []byte) {
	return map[string]func(data []byte){string(class.Message): h.hears, string(class.Hint): h.hears}
}

func (h *Heard) hears(data []byte) {
	var e class.Event
	if json.Unmarshal(data, &e) == nil {
		h.Take(e)
	}
}
