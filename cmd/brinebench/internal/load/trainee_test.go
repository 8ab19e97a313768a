package load

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"net/http"
	"slices"
	"strings"
	"sync"
	"time"

	"brinebench/sim"
)

// act is one as it is sent.
type act struct {
	Tick  int64   `json:"tick"`
	Kind  string  `json:"kind"`
	Part  string  `json:"part"`
	ID    string  `json:"id"`
	Text  string  `json:"text"`
	Value float64 `json:"value"`
}

func actsOf(log *sim.Log) (list []act) {
	for i := range log.Acts {
		a := &log.Acts[i]
		list = append(list, act{a.Tick, string(a.Kind), string(a.Part), a.ID, a.Text, a.Value})
	}
	return list
}

// attempt is how the server says that an attempt stands.
type attempt struct {
	Epoch  int64  `json:"epoch"`
	Acts   int    `json:"acts"`
	Status string `json:"status"`
	Why    string `json:"why"`
}

// held is a log as the server has it.
type held struct {
	Attempt attempt `json:"attempt"`
	Acts    []act   `json:"acts"`
}

// acked is when so many acts of a trainee had been acknowledged.
type acked struct {
	acts int
	at   time.Time
}

// trainee is one with a page, an outbox and a bad line.
type trainee struct {
	*browser
	chance *rand.Rand
	name   string
	drill  int64
	log    *sim.Log
	acts   []act
	member int64
	epoch  int64
	have   int // acts that the server has acknowledged
	acks   []acked

	heard []int64 // numbers of the events that came
	lost  error   // what must not be
}

// play joins, and plays the log in a time, over a line that drops what is sent or
// what is answered, and with reloads of the page.
func (x *trainee) play(code string, length time.Duration) error {
	var welcome struct{ Member struct{ ID int64 } }
	if err := x.again("POST", "/api/join", map[string]string{"code": code, "nickname": x.name, "once": "the same each time " + x.name}, &welcome); err != nil {
		return err
	}
	x.member = welcome.Member.ID
	if err := x.open(); err != nil {
		return err
	}
	ctx, stop := context.WithCancel(context.Background())
	var listening sync.WaitGroup
	listening.Go(func() { x.listen(ctx) })
	defer func() { stop(); listening.Wait() }()
	began := time.Now()
	for done := 0; done < len(x.acts); {
		share := time.Since(began).Seconds() / length.Seconds()
		for done < len(x.acts) && float64(x.acts[done].Tick) <= share*float64(x.log.Ticks) {
			done++
		}
		if err := x.send(done, false); err != nil {
			return err
		}
		time.Sleep(length/100 + time.Duration(x.chance.Int64N(int64(length/50))))
	}
	for {
		if err := x.send(len(x.acts), true); err != nil {
			return err
		}
		if x.have == len(x.acts) && x.done() {
			return x.lost
		}
		time.Sleep(50 * time.Millisecond)
	}
}

// open takes the drill up, as a page does that is loaded, and compares what is kept.
func (x *trainee) open() error {
	var taken held
	if err := x.again("POST", fmt.Sprintf("/api/me/drills/%d/open", x.drill), nil, &taken); err != nil {
		return err
	}
	x.epoch = taken.Attempt.Epoch
	return x.compare(&taken)
}

// compare asks that what was acknowledged is there, once and as it was.
func (x *trainee) compare(h *held) error {
	switch {
	case len(h.Acts) < x.have:
		x.lost = fmt.Errorf("%s: %d acts were acknowledged, %d are there", x.name, x.have, len(h.Acts))
	case len(h.Acts) > len(x.acts) || !slices.Equal(h.Acts, x.acts[:len(h.Acts)]):
		x.lost = fmt.Errorf("%s: other acts are there", x.name)
	}
	x.have = max(x.have, len(h.Acts))
	return x.lost
}

// send sends what was not acknowledged, or more; sometimes what is sent, or the answer,
// is lost, or the page is loaded anew.
func (x *trainee) send(done int, end bool) error {
	if x.chance.IntN(40) == 0 {
		x.CloseIdleConnections()
		return x.open()
	}
	from := max(0, x.have-x.chance.IntN(4)) // some come twice
	to := min(done, from+50)
	ticks := int64(0)
	if to > 0 {
		ticks = x.acts[to-1].Tick
	}
	u := map[string]any{"epoch": x.epoch, "engine": sim.Engine, "from": from, "acts": x.acts[from:to], "ticks": ticks}
	if end && to == len(x.acts) {
		u["ticks"], u["hash"] = x.log.Ticks, fmt.Sprintf("%016x", x.log.Hash)
	}
	if x.chance.IntN(10) == 0 {
		return nil // never arrives
	}
	var got attempt
	status, err := x.ask("POST", fmt.Sprintf("/api/me/drills/%d/acts", x.drill), u, &got)
	switch {
	case x.chance.IntN(10) == 0: // the answer is lost
	case err == nil:
		if got.Acts > x.have {
			x.have = got.Acts
			x.acks = append(x.acks, acked{x.have, time.Now()})
		}
	case status != 0 && status != http.StatusTooManyRequests && status < 500:
		return err
	}
	return nil
}

// done reports whether the server has it that the call was handed in.
func (x *trainee) done() bool {
	var h held
	if err := x.again("GET", fmt.Sprintf("/api/me/drills/%d/log", x.drill), nil, &h); err != nil {
		x.lost = errors.Join(x.lost, err)
		return true
	}
	return x.compare(&h) != nil || h.Attempt.Status != "going"
}

// listen hears what the class is told, over a line that breaks now and then.
func (x *trainee) listen(ctx context.Context) {
	for ctx.Err() == nil {
		x.hear(ctx)
		time.Sleep(20 * time.Millisecond)
	}
}

func (x *trainee) hear(ctx context.Context) {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	if x.chance.IntN(2) == 0 {
		time.AfterFunc(time.Second, stop)
	}
	after := int64(0)
	if n := len(x.heard); n > 0 {
		after = x.heard[n-1]
	}
	events(ctx, x.browser, "/api/me/events", after, func(name string, data []byte) {
		var e struct{ Seq int64 }
		if name != "state" && json.Unmarshal(data, &e) == nil {
			x.heard = append(x.heard, e.Seq)
		}
	})
}

// events reads a stream of events until it ends.
func events(ctx context.Context, b *browser, path string, after int64, hear func(name string, data []byte)) {
	q, err := http.NewRequestWithContext(ctx, "GET", b.url+path, nil)
	if err != nil {
		return
	}
	q.Header.Set("Last-Event-ID", fmt.Sprint(after))
	client := http.Client{Jar: b.Jar}
	response, err := client.Do(q)
	if err != nil {
		return
	}
	defer response.Body.Close()
	lines := bufio.NewScanner(response.Body)
	lines.Buffer(nil, 4<<20)
	name := ""
	for lines.Scan() {
		switch field, value, _ := strings.Cut(lines.Text(), ": "); field {
		case "event":
			name = value
		case "data":
			hear(name, []byte(value))
		}
	}
}
