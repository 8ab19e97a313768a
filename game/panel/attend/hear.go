//go:build js

package attend

import (
	"encoding/json"
	"strconv"

	"brinebench/game/class"
)

// listen hears what the server tells, from the last thing heard.
func (d *Drill) listen() {
	s := d.strip
	hear := s.heard.Listeners()
	for _, kind := range []class.EventKind{class.Freeze, class.Thaw, class.Extend, class.Ended} {
		hear[string(kind)] = func(data []byte) {
			var e class.Event
			if json.Unmarshal(data, &e) == nil {
				d.Mine.Class.Hear(&e)
				d.heard()
			}
		}
	}
	hear[string(class.Added)] = s.heard.hears
	hear["state"] = d.heardState
	Listen("me/events?after="+strconv.FormatInt(d.Mine.Seq, 10), hear, func(on bool) {
		if s.listens = on; on {
			d.Box.Hurry()
			d.pump()
		}
		s.show()
	})
}

// heardState hears how the class stands, after the line was down.
func (d *Drill) heardState(data []byte) {
	var c struct {
		Frozen               bool
		FrozenAt, Due, Ended int64
	}
	if json.Unmarshal(data, &c) == nil {
		at := &d.Mine.Class
		at.Frozen, at.FrozenMS, at.DueMS, at.EndMS = c.Frozen, c.FrozenAt, c.Due, c.Ended
		d.heard()
	}
}

// heard goes by what was told of the class.
func (d *Drill) heard() {
	d.strip.up = d.up()
	if !d.strip.up {
		d.Box.Extended()
	}
	d.Box.Hurry()
	d.stand()
	d.strip.showTime()
}
