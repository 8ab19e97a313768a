package room

import (
	"context"
	"encoding/json"
	"errors"

	"brinebench/cmd/brinebench/internal/live"
	"brinebench/game/class"
)

// keepAnswer takes the answer to a drill that is no call.
func (r *Room) keepAnswer(a ask) error { return r.keepBy(r.store.Answer, a) }

// keepDraft keeps such an answer as far as it has come: when the class is over it is handed
// in as it stands.
func (r *Room) keepDraft(a ask) error { return r.keepBy(r.store.Draft, a) }

// keepBy has the store keep an answer, in one of its two ways.
func (r *Room) keepBy(keep func(ctx context.Context, member, drill, epoch int64, x *class.Answer, halted error, nowMS int64) (class.Attempt, error), a ask) error {
	d, epoch, answer, err := r.readAnswer(&a)
	if err != nil {
		return err
	}
	now := r.opt.NowMS()
	at, err := keep(a.q.Context(), a.member.ID, d.ID, epoch, answer, a.class.Halted(now), now)
	if err != nil {
		return err
	}
	return a.answer(at)
}

// readAnswer reads an answer and what it is to; it can be marked.
func (r *Room) readAnswer(a *ask) (d class.Drill, epoch int64, answer *class.Answer, err error) {
	var said struct {
		Epoch  int64           `json:"epoch"`
		Answer json.RawMessage `json:"answer"`
	}
	if err = a.read(&said); err != nil {
		return d, 0, nil, err
	}
	if d, err = r.drill(a); err != nil {
		return d, 0, nil, err
	}
	switch {
	case d.Kind == class.Call:
		return d, 0, nil, &class.Refusal{Word: class.Malformed, Why: "the drill asks for acts, not for an answer"}
	case len(said.Answer) == 0 || len(said.Answer) > class.MaxAnswer:
		return d, 0, nil, bad(errors.New("answer: missing or too long"))
	}
	answer, err = live.Read(&d, said.Answer)
	return d, said.Epoch, answer, bad(err)
}
