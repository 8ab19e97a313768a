package room

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/game/class"
	"brinebench/sim"
)

// replayed is the log of a recording of testdata/replays, all of which are of the mill
// house with seed 5.
func replayed(t *testing.T, name string) *sim.Log {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "..", "..", "testdata", "replays", name+".msgp"))
	require.NoError(t, err)
	log := logOf(t, data)
	return &log
}

func logOf(t *testing.T, recording []byte) sim.Log {
	t.Helper()
	log, err := sim.LogOf(recording)
	require.NoError(t, err)
	return log
}

// replayedOn has the acts of a recording done in the call of a drill, as a page would.
func replayedOn(t *testing.T, tk *class.Taken, name string) *sim.Log {
	t.Helper()
	log := replayed(t, name)
	data, err := sim.Record(tk.Name, tk.Body, tk.Seed, log)
	require.NoError(t, err)
	again := logOf(t, data)
	return &again
}

// takeUp opens a drill and lets time go by: two hours of a call, at the pace of a page.
func (p *person) takeUp(drill int64) (tk class.Taken) {
	p.t.Helper()
	p.must("POST", path("me/drills/%d/open", drill), nil, &tk)
	p.ms.Add(1000)
	return tk
}

// stretch is acts of a log as they are sent, up to the end of the log or to the last act.
func stretch(tk *class.Taken, log *sim.Log, from, to int, end bool) class.SentUpload {
	u := class.SentUpload{Epoch: tk.Attempt.Epoch, Engine: sim.Engine, From: from, Acts: []class.SentAct{}}
	for i := from; i < to; i++ {
		u.Acts = append(u.Acts, class.Sent(&log.Acts[i]))
		u.Ticks = log.Acts[i].Tick
	}
	if end {
		u.Ticks, u.Hash = log.Ticks, fmt.Sprintf("%016x", log.Hash)
	}
	return u
}

func (p *person) send(tk *class.Taken, log *sim.Log, from, to int, end bool) (int, []byte) {
	p.t.Helper()
	return p.ask("POST", path("me/drills/%d/acts", tk.Attempt.Drill), stretch(tk, log, from, to, end))
}

func (p *person) upload(tk *class.Taken, log *sim.Log, from, to int, end bool) {
	p.t.Helper()
	status, data := p.send(tk, log, from, to, end)
	require.Equal(p.t, 200, status, "%s", data)
}
