package room

import (
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strconv"

	"brinebench/cmd/brinebench/internal/store"
	"brinebench/game/class"
)

func (r *Room) classes(a ask) error {
	list, err := r.store.Classes(a.q.Context())
	if err != nil {
		return err
	}
	if list == nil {
		list = []class.Class{}
	}
	return a.answer(list)
}

func (r *Room) makeClass(a ask) error {
	var said struct {
		Name    string         `json:"name"`
		Minutes int            `json:"minutes"` // that there are from when the time is started; 0 for no limit
		Drills  []class.Wanted `json:"drills"`
		Once    string         `json:"once"` // who had no answer asks with the same again
	}
	if err := a.read(&said); err != nil {
		return err
	}
	name, err := class.CleanName(said.Name)
	if err = errors.Join(err, class.CheckOnce(said.Once)); err != nil {
		return bad(err)
	}
	if len(said.Drills) > class.MaxDrills || said.Minutes < 0 || said.Minutes > maxMinutes {
		return bad(fmt.Errorf("at most %d drills and %d minutes", class.MaxDrills, maxMinutes))
	}
	var drills []class.Drill
	for i := range said.Drills {
		if said.Drills[i].Member != 0 {
			return bad(fmt.Errorf("drills[%d].member: nobody has joined yet", i))
		}
		d, err := drillOf(&said.Drills[i], drills)
		if err != nil {
			return badDrill(fmt.Errorf("drills[%d].%w", i, err))
		}
		drills = append(drills, d)
	}
	c := class.Class{Name: name, Code: class.NewCode(), MadeMS: r.opt.NowMS(), LengthMS: int64(said.Minutes) * 60_000}
	if said.Once != "" {
		seed, err := r.sign(a.q.Context(), "code", said.Once)
		if err != nil {
			return err
		}
		c.Code = class.CodeOf(seed)
	}
	err = r.store.AddClass(a.q.Context(), &c, drills)
	if said.Once != "" && errors.Is(err, store.ErrThere) {
		return r.madeBefore(a, c.Code)
	}
	if err != nil {
		return err
	}
	r.log.Info("class made", "class", c.ID, "drills", len(drills))
	if drills == nil {
		drills = []class.Drill{}
	}
	return a.answer(class.Shown{Class: c, Drills: drills})
}

// badDrill is for a drill that cannot be made; that no call has its fault is told apart.
func badDrill(err error) error {
	if errors.Is(err, errFault) {
		return &problem{http.StatusBadRequest, "fault", err.Error()}
	}
	return bad(err)
}

// madeBefore shows the class that the same request has made.
func (r *Room) madeBefore(a ask, code string) (err error) {
	if a.class, err = r.store.ClassByCode(a.q.Context(), code); err != nil {
		return err
	}
	return r.showClass(a)
}

const maxMinutes = 24 * 60

func (r *Room) showClass(a ask) error {
	drills, err := r.drills(a.q.Context(), a.class.ID)
	if err != nil {
		return err
	}
	return a.answer(class.Shown{Class: a.class, Drills: drills})
}

// erase takes a class out of the store; who asks has to name it.
func (r *Room) erase(a ask) error {
	if err := r.store.Erase(a.q.Context(), a.class.ID); err != nil {
		return err
	}
	r.log.Info("class erased", "class", a.class.ID)
	return a.done()
}

func (r *Room) lock(a ask) error {
	var said struct {
		Locked bool `json:"locked"`
	}
	if err := a.read(&said); err != nil {
		return err
	}
	if err := r.store.SetLocked(a.q.Context(), a.class.ID, said.Locked); err != nil {
		return err
	}
	return a.done()
}

// tell tells a class or a member something.
func (r *Room) tell(a ask, e class.Event) error {
	e.Class, e.MS = a.class.ID, r.opt.NowMS()
	if a.class.EndMS != 0 && e.Kind != class.Message {
		return class.ErrEnded
	}
	if err := r.store.Tell(a.q.Context(), &e); err != nil {
		return err
	}
	r.hub.wake()
	return a.answer(e)
}

func (r *Room) freeze(a ask) error {
	var said struct {
		Frozen bool `json:"frozen"`
	}
	if err := a.read(&said); err != nil {
		return err
	}
	kind := class.Thaw
	if said.Frozen {
		kind = class.Freeze
	}
	return r.tell(a, class.Event{Kind: kind})
}

// message tells somebody something, or gives a hint, which is told apart.
func (r *Room) message(a ask) error {
	var said struct {
		Member int64  `json:"member"` // 0 for all
		Hint   bool   `json:"hint"`
		Text   string `json:"text"`
	}
	if err := a.read(&said); err != nil {
		return err
	}
	text, err := class.CleanText(said.Text)
	if err != nil {
		return bad(err)
	}
	kind := class.Message
	if said.Hint {
		kind = class.Hint
	}
	return r.tell(a, class.Event{Kind: kind, Member: said.Member, Text: text})
}

// startTime lets the time of the class begin, once.
func (r *Room) startTime(a ask) error {
	if a.class.EndMS != 0 {
		return class.ErrEnded
	}
	if err := r.store.StartTime(a.q.Context(), a.class.ID, r.opt.NowMS()); err != nil {
		return err
	}
	r.hub.wake()
	return a.done()
}

// extend gives more time: until a moment, which may be said again; or so many minutes to
// the end that there was, or from now on where there was none or it is past.
func (r *Room) extend(a ask) error {
	var said struct {
		Minutes int   `json:"minutes"`
		DueMS   int64 `json:"due"`
	}
	if err := a.read(&said); err != nil {
		return err
	}
	now, due := a.class.Clock(r.opt.NowMS()), said.DueMS
	till := max(a.class.DueMS, now)
	if a.class.Waits() { // its time begins with it
		till = now + a.class.LengthMS
	}
	switch most := now + maxMinutes*60_000; {
	case said.Minutes != 0 && due != 0:
		return bad(errors.New("minutes, due: one of them"))
	case due != 0 && (due <= now || due > most):
		return bad(fmt.Errorf("due: not within %d minutes from now", maxMinutes))
	case due == 0 && (said.Minutes < 1 || said.Minutes > maxMinutes):
		return bad(fmt.Errorf("minutes: not 1 to %d", maxMinutes))
	case due == 0:
		due = till + int64(said.Minutes)*60_000
	}
	return r.tell(a, class.Event{Kind: class.Extend, Text: strconv.FormatInt(due, 10)})
}

func (r *Room) pushDrill(a ask) error {
	var said class.Wanted
	if err := a.read(&said); err != nil {
		return err
	}
	have, err := r.store.Drills(a.q.Context(), a.class.ID)
	if err != nil {
		return err
	}
	have = slices.DeleteFunc(have, func(d class.Drill) bool { return said.Member != 0 && !d.For(said.Member) })
	d, err := drillOf(&said, have)
	if err != nil {
		return badDrill(err)
	}
	d.Class = a.class.ID
	switch err := r.store.AddDrill(a.q.Context(), &d, r.opt.NowMS()); {
	case errors.Is(err, store.ErrMany):
		return bad(err)
	case err != nil:
		return err
	}
	r.hub.wake()
	return a.answer(d)
}

func (r *Room) end(a ask) error {
	if err := r.tell(a, class.Event{Kind: class.Ended}); err != nil {
		return err
	}
	r.log.Info("class ended", "class", a.class.ID)
	return nil
}

// changeMember sends a member out, lets them in again, gives them another token, or
// erases them.
func (r *Room) changeMember(a ask) error {
	id, err := a.number("member")
	if err != nil {
		return err
	}
	var said struct {
		Do string `json:"do"` // "out", "in", "token" or "erase"
	}
	if err := a.read(&said); err != nil {
		return err
	}
	ctx := a.q.Context()
	switch said.Do {
	case "out", "in":
		err = r.store.SendOut(ctx, a.class.ID, id, said.Do == "out")
	case "erase":
		err = r.store.EraseMember(ctx, a.class.ID, id)
	case "token":
		token := class.NewToken()
		if err := r.store.NewToken(ctx, a.class.ID, id, class.Digest(token)); err != nil {
			return err
		}
		return a.answer(map[string]string{"token": token})
	default:
		return &problem{http.StatusBadRequest, "bad", "do: none of out, in, token, erase"}
	}
	if err != nil {
		return err
	}
	return a.done()
}
