package room

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"

	"brinebench/game/class"
	"brinebench/game/say"
	"brinebench/scenarios"
	"brinebench/sim"
)

// choices are all calls, by rung, and the benches of the sequence. Sizing jobs are drawn.
var choices = sync.OnceValues(func() (list []class.Choice, err error) {
	names, err := fs.Glob(scenarios.FS, "*.json")
	if err != nil {
		return nil, err
	}
	for _, name := range names {
		data, err := scenarios.FS.ReadFile(name)
		if err != nil {
			return nil, err
		}
		card, err := sim.Card(name, data)
		if err != nil {
			return nil, err
		}
		faults, err := sim.Truth(name, data)
		if err != nil {
			return nil, err
		}
		titles, err := titlesIn(name)
		if err != nil {
			return nil, err
		}
		list = append(list, class.Choice{Kind: class.Call, Ref: card.ID, Title: card.Title, Rung: card.Rung, Faults: faults, Titles: titles})
	}
	slices.SortStableFunc(list, func(a, b class.Choice) int { return a.Rung - b.Rung })
	for _, id := range sim.CyclePrograms() {
		data, err := scenarios.Bench.ReadFile("bench/" + id + ".json")
		if err != nil {
			continue
		}
		card, err := sim.Card(id, data)
		if err != nil {
			return nil, err
		}
		asks, err := asksOf(id, data)
		if err != nil {
			return nil, err
		}
		list = append(list, class.Choice{Kind: class.Sequence, Ref: id, Title: card.Title, Asks: asks})
	}
	return list, nil
})

// asksOf counts what a sequence drill on a bench asks.
func asksOf(name string, bench []byte) (list []class.Asks, err error) {
	unit, err := sim.OpenCycle(name, bench)
	if err != nil {
		return nil, err
	}
	for _, kind := range class.SequenceKinds {
		if n := len(unit.Exercises(kind)); n > 0 {
			list = append(list, class.Asks{Kind: kind, N: n})
		}
	}
	return list, nil
}

// titlesIn are the titles of a call in all languages but its file's own.
func titlesIn(name string) (map[string]string, error) {
	titles := map[string]string{}
	for _, l := range say.Langs[1:] {
		file := string(l) + "/" + name
		data, err := scenarios.Told.ReadFile(file)
		if err != nil {
			return nil, err
		}
		told, err := say.ReadCall(file, data)
		if err != nil {
			return nil, err
		}
		titles[string(l)] = told.Title
	}
	return titles, nil
}

// drills reads the drills of a class, with what their titles are in other languages.
func (r *Room) drills(ctx context.Context, id int64) ([]class.Drill, error) {
	list, err := r.store.Drills(ctx, id)
	if err != nil {
		return nil, err
	}
	all, err := choices()
	if err != nil {
		return nil, err
	}
	for i := range list {
		if c := callNamed(all, list[i].Ref); c != nil && list[i].Kind == class.Call {
			list[i].Titles = c.Titles
		}
	}
	return list, nil
}

// callNamed finds a call, nil where there is none of that name.
func callNamed(all []class.Choice, ref string) *class.Choice {
	i := slices.IndexFunc(all, func(c class.Choice) bool { return c.Kind == class.Call && c.Ref == ref })
	if i < 0 {
		return nil
	}
	return &all[i]
}

func (r *Room) catalogue(a ask) error {
	list, err := choices()
	if err != nil {
		return err
	}
	return a.answer(list)
}

// drillOf makes the drill that the instructor asks for. What was drawn before is drawn again only where all were.
func drillOf(x *class.Wanted, have []class.Drill) (d class.Drill, err error) {
	d = class.Drill{Kind: x.Kind, Ref: x.Ref, Seed: x.Seed, Exam: x.Exam, Member: x.Member}
	if x.Fault != "" && x.Kind != class.Call {
		return d, errors.New("fault: a call alone has one")
	}
	if x.Kind == class.Sizing && x.Seed > class.MostJob {
		return d, fmt.Errorf("seed: the number of a sizing job is at most %d", class.MostJob)
	}
	if d.Seed == 0 {
		d.Seed = drawnSeed(x.Kind)
	}
	switch x.Kind {
	case class.Call:
		err = drawCall(x, &d, have)
	case class.Sequence:
		if d.Ref == "" {
			d.Ref = "standard"
		}
		d.Title, d.Body, err = benchNamed(d.Ref)
	case class.Sizing:
		job := sim.DrawSizing(d.Seed)
		d.Ref, d.Title, d.Body = fmt.Sprintf("drawn-%d", d.Seed), job.Title, job.JSON
	default:
		err = fmt.Errorf("kind: %.40q: none of call, sequence, sizing", x.Kind)
	}
	return d, err
}

// drawnSeed draws the seed of a drill: as exact in a page as here, and of a sizing job such
// that it can be typed.
func drawnSeed(k class.Kind) uint64 {
	if k == class.Sizing {
		return 1 + rand.Uint64N(class.MostJob)
	}
	return 1 + rand.Uint64N(1<<53-1)
}

// errFault is for a fault that no call has of those that one is to be drawn from.
var errFault = errors.New("no such call has this fault")

// drawCall takes the call that is named, or draws one.
func drawCall(x *class.Wanted, d *class.Drill, have []class.Drill) error {
	all, err := choices()
	if err != nil {
		return err
	}
	if d.Ref != "" && callNamed(all, d.Ref) == nil {
		return fmt.Errorf("ref: no call is named %.80q", d.Ref)
	}
	from := x.Calls(all)
	if len(from) == 0 {
		return fmt.Errorf("fault: %.80q, rung %d to %d, call %.80q: %w", x.Fault, x.Rung[0], x.Rung[1], x.Ref, errFault)
	}
	fresh := slices.DeleteFunc(slices.Clone(from), func(c class.Choice) bool {
		return slices.ContainsFunc(have, func(h class.Drill) bool { return h.Ref == c.Ref })
	})
	if len(fresh) > 0 {
		from = fresh
	}
	c := from[rand.IntN(len(from))]
	d.Ref, d.Title, d.Titles = c.Ref, c.Title, c.Titles
	if d.Body, err = scenarios.FS.ReadFile(d.Ref + ".json"); err == nil && d.Exam {
		d.Body, err = unnamed(d.Body)
	}
	return err
}

// benchNamed reads a bench. The name is looked up among those there are.
func benchNamed(id string) (title string, body []byte, err error) {
	all, err := choices()
	if err != nil {
		return "", nil, err
	}
	i := slices.IndexFunc(all, func(c class.Choice) bool { return c.Kind == class.Sequence && c.Ref == id })
	if i < 0 {
		return "", nil, fmt.Errorf("ref: no bench is named %.80q", id)
	}
	body, err = scenarios.Bench.ReadFile("bench/" + id + ".json")
	return all[i].Title, body, err
}

// unnamed takes from a scenario what a list of calls knows it by. The unit, what is
// wrong with it and what the customer tells stay: the engine has to have them.
func unnamed(scenario []byte) ([]byte, error) {
	var fields map[string]json.RawMessage
	if err := json.Unmarshal(scenario, &fields); err != nil {
		return nil, err
	}
	fields["id"], fields["title"] = json.RawMessage(`"exam"`), json.RawMessage(`"Exam"`)
	delete(fields, "ladder")
	return json.Marshal(fields)
}

// shownTo is a drill as trainees are told of it: of an exam, that there is one.
func shownTo(d class.Drill, told bool) class.Drill {
	if d.Exam && !told {
		d.Ref, d.Title, d.Titles, d.Seed = "", fmt.Sprintf("Exam %d", d.Place), nil, 0
	}
	d.Title = strings.TrimSpace(d.Title)
	return d
}
