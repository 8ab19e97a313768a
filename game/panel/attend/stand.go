//go:build js

package attend

import (
	"syscall/js"
	"time"

	"brinebench/game/class"
	"brinebench/game/outbox"
	"brinebench/game/say"
)

// TimeLeft says how much time a class has left, or that it has not begun; "" for one without
// a limit.
func TimeLeft(c *class.Class, nowMS int64) string {
	switch left := class.Countdown(c.LeftMS(nowMS)); {
	case c.EndMS != 0:
		return say.Text("join.ended")
	case c.TimeUp(nowMS):
		return say.Text("class.time-up")
	case c.Waits():
		return say.Text("attend.length", int(c.LengthMS/60_000))
	case c.DueMS == 0:
		return ""
	case c.Frozen:
		return say.Text("class.left-frozen", left)
	default:
		return say.Text("attend.left-time", left, Clock(c.DueMS))
	}
}

// nowMS is the server's clock.
func (d *Drill) nowMS() int64 { return NowMS() + d.aheadMS }

// up reports whether work is to stop because the class is over.
func (d *Drill) up() bool { return d.Mine.Class.Over(d.nowMS()) }

// closed reports whether nothing more of the drill is to be sent from here.
func (d *Drill) closed() bool { return d.Box.State != outbox.Going && d.Box.State != outbox.Frozen }

// Attended reports whether Attend has begun.
func (d *Drill) Attended() bool { return d.strip != nil }

// Handed reports whether the drill is handed in.
func (d *Drill) Handed() bool { return d.Box.State == outbox.Handed }

// Elsewhere reports whether the drill goes on on another device.
func (d *Drill) Elsewhere() bool { return d.Box.State == outbox.Elsewhere }

// Over reports whether nothing more can be done at the drill here.
func (d *Drill) Over() bool { return d.closed() || d.up() }

// Frozen reports whether the class stands still.
func (d *Drill) Frozen() bool { return d.Mine.Class.Frozen }

// Stops says why nothing more can be done here, "" where it can.
func (d *Drill) Stops() string {
	switch {
	case d.Handed(): // the call itself refuses
		return ""
	case d.up():
		return d.overWords()
	case d.closed():
		return say.Text("attend." + string(d.Box.State))
	}
	return ""
}

// overWords say that the class is over, and what becomes of what was done.
func (d *Drill) overWords() string {
	if d.Mine.Class.EndMS != 0 {
		return say.Text("attend.ended")
	}
	return say.Text("attend.late")
}

// Waits says what is waited for once the drill is handed in.
func (d *Drill) Waits() string {
	switch {
	case !d.Taken.Exam:
		return say.Text("task.wait")
	case d.Mine.Class.EndMS != 0:
		return say.Text("attend.told", Clock(d.Mine.Class.ToldMS()))
	}
	return say.Text("attend.withheld")
}

// stand brings the page up to how the class stands.
func (d *Drill) stand() {
	d.strip.show()
	d.strip.freeze()
	d.stands()
	if d.up() && !d.closed() {
		d.pump()
		if !d.awaits {
			d.awaits = true
			go d.awaitHandIn()
		}
	}
}

// awaitHandIn waits until the server has handed in what there is.
func (d *Drill) awaitHandIn() {
	const everyMS, longMS = 3000, 60_000
	defer func() { d.awaits = false }()
	for d.up() && !d.closed() && d.nowMS() < d.Mine.Class.HandedMS()+longMS {
		time.Sleep(everyMS * time.Millisecond)
		var m class.Mine
		if Ask("GET", "me", nil, &m) != nil {
			continue
		}
		d.Mine.Attempts, d.Mine.Scores = m.Attempts, m.Scores
		if a := d.attempt(); a != nil && a.Status != class.Going {
			d.answered(nil, a)
		}
	}
}

// attempt is the drill's as the server last told.
func (d *Drill) attempt() *class.Attempt {
	for i := range d.Mine.Attempts {
		if d.Mine.Attempts[i].Drill == d.Taken.Attempt.Drill {
			return &d.Mine.Attempts[i]
		}
	}
	return nil
}

// reload opens the page anew: the server has brought the call to its end.
func reload() { js.Global().Get("location").Call("reload") }
