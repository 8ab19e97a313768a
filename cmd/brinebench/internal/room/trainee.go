package room

import (
	"context"
	"errors"
	"fmt"
	"net/http"

	"brinebench/cmd/brinebench/internal/store"
	"brinebench/game/class"
	"brinebench/sim"
)

// join takes somebody into a class by its code, under a nickname.
func (r *Room) join(a ask) error {
	var said struct {
		Code     string `json:"code"`
		Nickname string `json:"nickname"`
		Once     string `json:"once"` // who had no answer asks with the same again
	}
	if err := a.read(&said); err != nil {
		return err
	}
	name, err := class.CleanName(said.Nickname)
	if err = errors.Join(err, class.CheckOnce(said.Once)); err != nil {
		return bad(err)
	}
	var c class.Class
	if err := r.guess(a.q, "code", "no class has this code", func() (err error) {
		c, err = r.store.ClassByCode(a.q.Context(), class.Typed(said.Code))
		return err
	}); err != nil {
		return err
	}
	if !r.limits.joins.allow(r.origin(a.q)) {
		return errSlow
	}
	token, now := class.NewToken(), r.opt.NowMS()
	if said.Once != "" {
		seed, err := r.sign(a.q.Context(), "token", fmt.Sprint(c.ID, " ", name, " ", said.Once))
		if err != nil {
			return err
		}
		token = class.TokenOf(seed)
	}
	m := class.Member{Class: c.ID, Nickname: name, JoinedMS: now, SeenMS: now}
	switch err := r.store.Join(a.q.Context(), &m, class.Digest(token)); {
	case errors.Is(err, store.ErrLocked):
		return &problem{http.StatusForbidden, "locked", err.Error()}
	case errors.Is(err, store.ErrTaken):
		return &problem{http.StatusConflict, "taken", err.Error()}
	case errors.Is(err, store.ErrFull):
		return &problem{http.StatusForbidden, "full", err.Error()}
	case err != nil:
		return err
	}
	r.log.Info("joined", "class", c.ID, "member", m.ID)
	return r.welcome(a, m, token)
}

// resume brings a member back by the token, on any device.
func (r *Room) resume(a ask) error {
	var said struct {
		Token string `json:"token"`
	}
	if err := a.read(&said); err != nil {
		return err
	}
	token := class.Typed(said.Token)
	var m class.Member
	if err := r.guess(a.q, "token", "nobody has this token", func() (err error) {
		m, err = r.store.MemberBy(a.q.Context(), class.Digest(token))
		return err
	}); err != nil {
		return err
	}
	return r.welcome(a, m, token)
}

func (r *Room) welcome(a ask, m class.Member, token string) error {
	r.setCookie(a, memberCookie, token, memberS)
	return a.answer(map[string]any{"member": m, "token": token})
}

// guess looks for what a code or token names, and counts where there is none.
func (r *Room) guess(q *http.Request, word, text string, find func() error) error {
	right, err := r.limits.guesses.check(trier{key: r.origin(q)}, func() (bool, error) {
		err := find()
		if store.IsNone(err) {
			return false, nil
		}
		return err == nil, err
	})
	if err == nil && !right {
		r.metrics.count("guesses")
		err = &problem{http.StatusNotFound, word, text}
	}
	return err
}

// here is what a page sends so that it is known to be there.
func (a ask) here() error { return a.done() }

func (r *Room) leave(a ask) error {
	r.setCookie(a, memberCookie, "", -1)
	return a.done()
}

func (r *Room) me(a ask) error {
	ctx := a.q.Context()
	c, seq, err := r.store.Now(ctx, a.class.ID)
	if err != nil {
		return err
	}
	c.Code = "" // who is in needs it no more
	drills, err := r.drills(ctx, c.ID)
	if err != nil {
		return err
	}
	m := class.Mine{
		Class: class.Shown{Class: c, Drills: []class.Drill{}}, Member: a.member, Attempts: []class.Attempt{}, Scores: []class.Score{},
		Seq: seq, NowMS: r.opt.NowMS(), ToldMS: c.ToldMS(),
	}
	if m.Number, err = r.store.Number(ctx, &a.member); err != nil {
		return err
	}
	if m.Heard, err = r.store.Heard(ctx, &a.member); err != nil {
		return err
	}
	told := c.Told(m.NowMS)
	for _, d := range drills {
		if !d.For(a.member.ID) {
			continue
		}
		m.Class.Drills = append(m.Class.Drills, shownTo(d, told))
		at, err := r.store.Attempt(ctx, a.member.ID, d.ID)
		if store.IsNone(err) {
			continue
		}
		if err != nil {
			return err
		}
		m.Attempts = append(m.Attempts, at)
		if at.Status == class.Scored && (!d.Exam || told) {
			x, err := r.store.Result(ctx, a.member.ID, d.ID)
			if err != nil {
				return err
			}
			m.Scores = append(m.Scores, class.Score{Drill: d.ID, Score: x.Score})
		}
	}
	return a.answer(m)
}

// drill finds the drill of the class that a request names.
func (r *Room) drill(a *ask) (d class.Drill, err error) {
	id, err := a.number("drill")
	if err != nil {
		return d, err
	}
	if d, err = r.store.Drill(a.q.Context(), id); err != nil {
		return d, err
	}
	if d.Class != a.class.ID || a.member.ID != 0 && !d.For(a.member.ID) {
		return d, errNone
	}
	return d, nil
}

// takeUp begins a drill, or takes it over from another device. Before, no page has been
// told what an exam is. Of a class that is over, what was done can be looked at.
func (r *Room) takeUp(a ask) error {
	d, err := r.drill(&a)
	if err != nil {
		return err
	}
	now := r.opt.NowMS()
	at, err := r.store.Attempt(a.q.Context(), a.member.ID, d.ID)
	shut := a.class.Shut(now)
	switch {
	case store.IsNone(err) && shut != nil:
		return shut
	case store.IsNone(err), err == nil && !a.class.Over(now):
		at, err = r.store.TakeUp(a.q.Context(), a.member.ID, d.ID, sim.Engine, now)
	}
	if err != nil {
		return err
	}
	x := class.Taken{Attempt: at, Kind: d.Kind, Exam: d.Exam, Name: nameOf(&d), Seed: d.Seed, Body: d.Body}
	if x.Acts, err = r.actsOf(a.q.Context(), a.member.ID, d.ID, 0); err != nil {
		return err
	}
	if x.Answer, err = r.store.AnswerOf(a.q.Context(), a.member.ID, d.ID); err != nil {
		return err
	}
	return a.answer(x)
}

func (r *Room) actsOf(ctx context.Context, member, drill int64, from int) ([]class.SentAct, error) {
	acts, err := r.store.Acts(ctx, member, drill, from)
	list := make([]class.SentAct, 0, len(acts))
	for i := range acts {
		list = append(list, class.Sent(&acts[i].LogAct))
	}
	return list, err
}

// ownLog tells how far a log is kept here, without taking it over.
func (r *Room) ownLog(a ask) error {
	d, err := r.drill(&a)
	if err != nil {
		return err
	}
	at, err := r.store.Attempt(a.q.Context(), a.member.ID, d.ID)
	if err != nil {
		return err
	}
	acts, err := r.actsOf(a.q.Context(), a.member.ID, d.ID, 0)
	if err != nil {
		return err
	}
	return a.answer(map[string]any{"attempt": at, "acts": acts})
}

// keepActs keeps a stretch of a log. The answer says how many acts of it are here for
// good; a page that has had no answer sends again.
func (r *Room) keepActs(a ask) error {
	var said class.SentUpload
	if err := a.read(&said); err != nil {
		return err
	}
	u, err := said.Upload()
	if err != nil {
		return bad(err)
	}
	d, err := r.drill(&a)
	if err != nil {
		return err
	}
	now := r.opt.NowMS()
	if d.Kind != class.Call {
		return &class.Refusal{Word: class.Malformed, Why: "the drill asks for an answer, not for acts"}
	}
	at, err := r.store.Keep(a.q.Context(), a.member.ID, d.ID, u, a.class.Halted(now), now)
	if err != nil {
		return r.refused(&a, &d, err)
	}
	r.metrics.add("uploads", 1)
	return a.answer(at)
}

// refused notes an upload that was refused. A log that only somebody can have made up
// is closed, and the instructor told.
func (r *Room) refused(a *ask, d *class.Drill, err error) error {
	refusal, ok := class.AsRefusal(err)
	if !ok {
		return err
	}
	r.metrics.count("refusals_" + refusal.Word)
	if refusal.Forged() {
		r.log.Warn("upload refused", "class", d.Class, "member", a.member.ID, "drill", d.ID, "word", refusal.Word, "why", refusal.Why)
		if err := r.store.Refuse(a.q.Context(), d.Class, a.member.ID, d.ID, refusal, r.opt.NowMS()); err != nil {
			return err
		}
		r.hub.wake()
	}
	return err
}

// ownReport tells a trainee how it went: of an exam when nobody can hand it in any more.
func (r *Room) ownReport(a ask) error {
	d, err := r.drill(&a)
	if err != nil {
		return err
	}
	if d.Exam && !a.class.Told(r.opt.NowMS()) {
		return &problem{http.StatusForbidden, "exam", "told when the class has ended and nobody can hand in any more"}
	}
	return r.report(&a, a.member.ID, d.ID)
}

func (r *Room) report(a *ask, member, drill int64) error {
	x, err := r.store.Result(a.q.Context(), member, drill)
	if err != nil {
		return err
	}
	return a.send("application/json", x.Report)
}
