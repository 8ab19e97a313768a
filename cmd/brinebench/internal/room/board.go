package room

import (
	"context"

	"brinebench/game/class"
)

// look gathers the board of a class, with the alarms after a number.
func (r *Room) look(ctx context.Context, classID, alarmsAfter int64) (n class.News, err error) {
	r.tracker.Watch(classID)
	w, err := r.watched(ctx, classID)
	if err != nil {
		return n, err
	}
	events, err := r.store.Alarms(ctx, classID, alarmsAfter)
	if err != nil {
		return n, err
	}
	now := r.opt.NowMS()
	n = class.News{Class: w.Class, Drills: len(w.Drills), Rows: class.Board(&w, now), Mistakes: class.Mistakes(&w), Alarms: []class.Event{}, Behind: r.tracker.Behind.Load(), NowMS: now}
	n.Alarms = append(n.Alarms, events...)
	return n, nil
}

func (r *Room) watched(ctx context.Context, classID int64) (w class.Watched, err error) {
	w.Insight = r.tracker.Insight
	if w.Class, err = r.store.Class(ctx, classID); err != nil {
		return w, err
	}
	if w.Drills, err = r.store.Tasks(ctx, classID); err != nil {
		return w, err
	}
	if w.Members, err = r.store.Members(ctx, classID); err != nil {
		return w, err
	}
	if w.Attempts, err = r.store.Attempts(ctx, classID); err != nil {
		return w, err
	}
	w.Results, err = r.store.Scores(ctx, classID)
	return w, err
}

func (r *Room) board(a ask) error {
	n, err := r.look(a.q.Context(), a.class.ID, 0)
	if err != nil {
		return err
	}
	return a.answer(n)
}
