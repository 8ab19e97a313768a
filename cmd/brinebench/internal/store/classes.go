package store

import (
	"context"
	"errors"
	"fmt"
	"strconv"

	"brinebench/game/class"
)

// ErrThere is for a class that is there already.
var ErrThere = errors.New("store: there is such a class")

const classFields = `id, name, code, made_ms, locked, frozen, frozen_ms, length_ms, due_ms, end_ms`

func scanClass(r scanner) (c class.Class, err error) {
	return scanClassAnd(r)
}

// scanClassAnd takes what was asked for behind classFields too.
func scanClassAnd(r scanner, more ...any) (c class.Class, err error) {
	err = r.Scan(append([]any{&c.ID, &c.Name, &c.Code, &c.MadeMS, &c.Locked, &c.Frozen, &c.FrozenMS, &c.LengthMS, &c.DueMS, &c.EndMS}, more...)...)
	return c, err
}

// AddClass makes a class with its drills and gives them their numbers and places. One
// that has the code already is left as it is: ErrThere.
func (s *Store) AddClass(ctx context.Context, c *class.Class, drills []class.Drill) error {
	return s.inTx(ctx, func(t *tx) error {
		var n int
		switch err := t.row(ctx, `SELECT COUNT(*) FROM classes WHERE code = ?`, c.Code).Scan(&n); {
		case err != nil:
			return wrap(err)
		case n > 0:
			return ErrThere
		}
		err := t.row(ctx, `INSERT INTO classes (name, code, made_ms, locked, frozen, length_ms, due_ms, end_ms, events)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?, 0) RETURNING id`, c.Name, c.Code, c.MadeMS, c.Locked, c.Frozen, c.LengthMS, c.DueMS, c.EndMS).Scan(&c.ID)
		if err != nil {
			return wrap(err)
		}
		for i := range drills {
			drills[i].Class, drills[i].Place = c.ID, i+1
			if err := t.addDrill(ctx, &drills[i]); err != nil {
				return err
			}
		}
		return nil
	})
}

func (t *tx) addDrill(ctx context.Context, d *class.Drill) error {
	return wrap(t.row(ctx, `INSERT INTO drills (class, place, kind, ref, title, seed, exam, body, member) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?) RETURNING id`,
		d.Class, d.Place, string(d.Kind), d.Ref, d.Title, int64(d.Seed), d.Exam, d.Body, d.Member).Scan(&d.ID))
}

// Classes are all of them, the youngest first.
func (s *Store) Classes(ctx context.Context) ([]class.Class, error) {
	return list(ctx, s.read, s.dialect, scanClass, `SELECT `+classFields+` FROM classes ORDER BY id DESC`)
}

// Class finds a class.
func (s *Store) Class(ctx context.Context, id int64) (class.Class, error) {
	c, err := scanClass(s.row(ctx, `SELECT `+classFields+` FROM classes WHERE id = ?`, id))
	return c, wrap(err)
}

// ClassByCode finds the class that a code joins.
func (s *Store) ClassByCode(ctx context.Context, code string) (class.Class, error) {
	c, err := scanClass(s.row(ctx, `SELECT `+classFields+` FROM classes WHERE code = ?`, code))
	return c, wrap(err)
}

const drillFields = `id, class, place, kind, ref, title, seed, exam, body, member`

func scanDrill(r scanner) (d class.Drill, err error) {
	var seed int64
	err = r.Scan(&d.ID, &d.Class, &d.Place, &d.Kind, &d.Ref, &d.Title, &seed, &d.Exam, &d.Body, &d.Member)
	d.Seed = uint64(seed)
	return d, err
}

// Drills are those of a class, in their order.
func (s *Store) Drills(ctx context.Context, classID int64) ([]class.Drill, error) {
	return list(ctx, s.read, s.dialect, scanDrill, `SELECT `+drillFields+` FROM drills WHERE class = ? ORDER BY place`, classID)
}

// Tasks are the drills of a class without their bodies.
func (s *Store) Tasks(ctx context.Context, classID int64) ([]class.Drill, error) {
	return list(ctx, s.read, s.dialect, scanDrill, `SELECT id, class, place, kind, ref, title, seed, exam, NULL, member FROM drills WHERE class = ? ORDER BY place`, classID)
}

// Drill finds a drill.
func (s *Store) Drill(ctx context.Context, id int64) (class.Drill, error) {
	d, err := scanDrill(s.row(ctx, `SELECT `+drillFields+` FROM drills WHERE id = ?`, id))
	return d, wrap(err)
}

// SetLocked opens or closes the door of a class.
func (s *Store) SetLocked(ctx context.Context, id int64, locked bool) error {
	return s.exec(ctx, `UPDATE classes SET locked = ? WHERE id = ?`, locked, id)
}

// Tell tells a class or a member something and, with it, does what it says to the
// class. It gives the event its number. Events of a class have one order on all
// programs, since each takes its number from the class's row, which it holds.
func (s *Store) Tell(ctx context.Context, e *class.Event) error {
	return s.inTx(ctx, func(t *tx) error { return t.tell(ctx, e) })
}

// StartTime lets the time of a class begin and tells it, which has one and where it has not
// begun yet; asked for again it does nothing.
func (s *Store) StartTime(ctx context.Context, classID, nowMS int64) error {
	return s.inTx(ctx, func(t *tx) error {
		c, err := scanClass(t.row(ctx, `SELECT `+classFields+` FROM classes WHERE id = ? {lock}`, classID))
		if err != nil || !c.Waits() {
			return wrap(err)
		}
		due := strconv.FormatInt(c.Clock(nowMS)+c.LengthMS, 10)
		return t.tell(ctx, &class.Event{Class: classID, Kind: class.Extend, Text: due, MS: nowMS})
	})
}

// thawed is when time is up once a class goes on: its clock stood meanwhile.
const thawed = `CASE WHEN frozen AND due_ms <> 0 THEN due_ms + CAST(? AS BIGINT) - frozen_ms ELSE due_ms END`

func (t *tx) tell(ctx context.Context, e *class.Event) error {
	change := ""
	args := []any{}
	switch e.Kind {
	case class.Freeze:
		change, args = ", frozen = TRUE, frozen_ms = CASE WHEN frozen THEN frozen_ms ELSE ? END", []any{e.MS}
	case class.Thaw:
		change, args = ", frozen = FALSE, due_ms = "+thawed, []any{e.MS}
	case class.Extend:
		change, args = ", due_ms = CAST(? AS BIGINT)", []any{e.Text}
	case class.Ended:
		change, args = ", end_ms = ?, frozen = FALSE, due_ms = "+thawed, []any{e.MS, e.MS}
	}
	var due int64
	err := t.row(ctx, `UPDATE classes SET events = events + 1`+change+` WHERE id = ? RETURNING events, due_ms`, append(args, e.Class)...).Scan(&e.Seq, &due)
	if err != nil {
		return wrap(err)
	}
	if e.Kind == class.Thaw {
		e.Text = strconv.FormatInt(due, 10)
	}
	return t.exec(ctx, `INSERT INTO events (class, seq, member, kind, words, at_ms) VALUES (?, ?, ?, ?, ?, ?)`,
		e.Class, e.Seq, e.Member, string(e.Kind), e.Text, e.MS)
}

// ErrMany is for a drill that is one too many.
var ErrMany = fmt.Errorf("store: a class has at most %d drills for all, and %d for one each", class.MaxDrills, class.MaxOwn)

// AddDrill pushes one more drill into a class, or to one of its members, and tells it.
func (s *Store) AddDrill(ctx context.Context, d *class.Drill, nowMS int64) error {
	return s.inTx(ctx, func(t *tx) error {
		// The row is held first: places are given one after the other.
		var end int64
		if err := t.row(ctx, `SELECT end_ms FROM classes WHERE id = ? {lock}`, d.Class).Scan(&end); err != nil {
			return wrap(err)
		}
		var all, own, last, there int
		err := t.row(ctx, `SELECT COUNT(*), COALESCE(SUM(CASE WHEN member = 0 THEN 0 ELSE 1 END), 0), COALESCE(MAX(place), 0),
			(SELECT COUNT(*) FROM members WHERE id = ? AND class = ?) FROM drills WHERE class = ?`, d.Member, d.Class, d.Class).Scan(&all, &own, &last, &there)
		switch {
		case err != nil:
			return wrap(err)
		case end != 0:
			return class.ErrEnded
		case d.Member != 0 && there == 0:
			return ErrNone
		case d.Member == 0 && all-own >= class.MaxDrills, d.Member != 0 && own >= class.MaxOwn:
			return ErrMany
		}
		d.Place = last + 1
		if err := t.addDrill(ctx, d); err != nil {
			return err
		}
		return t.tell(ctx, &class.Event{Class: d.Class, Member: d.Member, Kind: class.Added, Text: fmt.Sprint(d.ID), MS: nowMS})
	})
}

// Now is the state of a class as its last event left it, and that event's number.
func (s *Store) Now(ctx context.Context, classID int64) (c class.Class, last int64, err error) {
	c, err = scanClassAnd(s.row(ctx, `SELECT `+classFields+`, events FROM classes WHERE id = ?`, classID), &last)
	return c, last, wrap(err)
}
