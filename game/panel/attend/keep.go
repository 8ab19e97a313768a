//go:build js

package attend

import (
	"encoding/json"
	"fmt"

	"brinebench/game/class"
	"brinebench/game/dom"
	"brinebench/game/outbox"
)

// shelfName is the shelf on which a device keeps drills that are under way.
const shelfName = "brinebench-class"

// Forget takes all drills off the device. Not to be called in an event's own turn.
func Forget() {
	if shelf, err := dom.OpenShelf(shelfName); err == nil {
		shelf.Replace("", nil)
	}
}

// head is what a device keeps of a drill beside its acts.
type head struct {
	Taken class.Taken
	Mine  class.Mine
	Ticks int64
	Hash  string
}

// read finds what the device keeps of a drill; nil for nothing.
func (d *Drill) read(id string) (*head, *outbox.Box) {
	if d.shelf == nil {
		return nil, nil
	}
	texts, err := d.shelf.All(id + "/")
	if err != nil || len(texts) == 0 {
		return nil, nil
	}
	h := new(head)
	if json.Unmarshal([]byte(texts[0]), h) != nil {
		return nil, nil
	}
	b := &outbox.Box{Ticks: h.Ticks, Hash: h.Hash}
	for _, text := range texts[1:] {
		var a class.SentAct
		if json.Unmarshal([]byte(text), &a) != nil {
			return nil, nil
		}
		b.Acts = append(b.Acts, a)
	}
	return h, b
}

// write keeps the head and the acts from a number on. Names sort as they are counted.
func (d *Drill) write(from int) {
	if d.shelf == nil {
		return
	}
	h := head{Taken: d.Taken, Mine: d.Mine, Ticks: d.Box.Ticks, Hash: d.Box.Hash}
	h.Taken.Acts = nil
	texts := map[string]string{d.name() + "/": asText(&h)}
	for i := from; i < len(d.Box.Acts); i++ {
		texts[fmt.Sprintf("%s/%06d", d.name(), i)] = asText(&d.Box.Acts[i])
	}
	go func() {
		var err error
		if from == 0 { // what is there may be of an earlier visit, or another device's
			err = d.shelf.Replace(d.name()+"/", texts)
		} else {
			err = d.shelf.Put(texts)
		}
		if err != nil {
			d.shelf = nil
			d.strip.show()
		}
	}()
}

// drop takes the drill off the device: the server has all of it.
func (d *Drill) drop() {
	if d.shelf != nil {
		go d.shelf.Replace(d.name()+"/", nil)
	}
}

func asText(v any) string {
	data, err := json.Marshal(v)
	if err != nil {
		panic("attend: " + err.Error()) // plain data
	}
	return string(data)
}
