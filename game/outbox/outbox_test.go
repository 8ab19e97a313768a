package outbox

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/game/class"
	"brinebench/sim"
)

// server keeps a log as the classroom does: in order, what comes twice once.
type server struct {
	acts   []class.SentAct
	hash   string
	status class.Status
}

func (s *server) keep(u *class.SentUpload) (int, string, *class.Attempt) {
	if u.From > len(s.acts) {
		return 409, class.Gap, nil
	}
	for i, a := range u.Acts {
		switch at := u.From + i; {
		case at < len(s.acts) && s.acts[at] != a:
			return 409, class.Doubled, nil
		case at == len(s.acts):
			s.acts = append(s.acts, a)
		}
	}
	if s.status = class.Going; u.Hash != "" {
		s.status, s.hash = class.Handed, u.Hash
	}
	return 200, "", &class.Attempt{Acts: len(s.acts), Status: s.status}
}

func act(i int) sim.LogAct {
	return sim.LogAct{Tick: int64(10 * i), Action: sim.Action{Kind: sim.ActTest, ID: fmt.Sprint("test ", i)}}
}

func logOf(n int) *sim.Log {
	log := &sim.Log{Ticks: int64(10 * n), Hash: uint64(n)}
	for i := range n {
		log.Acts = append(log.Acts, act(i))
	}
	return log
}

func begun() *Box {
	b, err := New(&class.Taken{Attempt: class.Attempt{Epoch: 1, Status: class.Going}}, nil)
	if err != nil {
		panic(err)
	}
	return b
}

// A line that loses uploads and answers, and a device that is loaded anew in the middle:
// the server has every act once and in order in the end.
func TestNoActIsLostOrDoubledOnABadLine(t *testing.T) {
	for seed := range uint64(50) {
		r := rand.New(rand.NewPCG(seed, 1))
		s, b := &server{}, begun()
		now, acts := int64(0), 0
		for step := 0; b.State != Handed; step++ {
			require.Less(t, step, 20_000)
			now += r.Int64N(2_000)
			if acts < 450 && r.IntN(3) > 0 {
				acts += r.IntN(7)
				b.Note(logOf(acts), false)
			} else if acts >= 450 {
				b.Note(logOf(acts), true)
			}
			if r.IntN(200) == 0 { // the page is loaded again: what was under way is forgotten
				kept := &Box{Acts: b.Acts, Hash: b.Hash, Ticks: b.Ticks}
				var err error
				b, err = New(&class.Taken{Attempt: class.Attempt{Status: class.Going}, Acts: append([]class.SentAct{}, s.acts...)}, kept)
				require.NoError(t, err)
			}
			u := b.Next(now)
			if u == nil {
				continue
			}
			switch r.IntN(4) {
			case 0: // the upload is lost
				b.Answered(now, 0, "", "", nil)
			case 1: // the answer is lost
				s.keep(u)
				b.Answered(now, 0, "", "", nil)
			default:
				status, word, a := s.keep(u)
				require.Equal(t, 200, status, word)
				b.Answered(now, status, word, "", a)
			}
		}
		require.Equal(t, begunWith(acts).Acts, s.acts)
		require.Equal(t, fmt.Sprintf("%016x", acts), s.hash)
	}
}

func begunWith(n int) *Box {
	b := begun()
	b.Note(logOf(n), false)
	return b
}

func TestWhatTheServerSaysDecidesWhetherSendingGoesOn(t *testing.T) {
	for _, c := range []struct {
		name   string
		status int
		word   string
		state  State
		againS int64 // until it is tried again; 0 for never
	}{
		{"no network", 0, "", Going, 1},
		{"the server is being started again", 503, "", Going, 1},
		{"asked to wait", 429, "slow", Going, 4},
		{"the class is frozen", 409, class.Frozen, Frozen, 4},
		{"the server has lost acts", 409, class.Gap, Going, 1},
		{"taken up on another device", 409, class.TakenOver, Elsewhere, 0},
		{"the class has ended", 409, class.Closed, Late, 0},
		{"time is up", 409, class.Late, Late, 0},
		{"another engine", 409, class.WrongEngine, Old, 0},
		{"a proxy in between", 404, "none", Going, 30},
		{"a forged log", 409, class.Doubled, Refused, 0},
		{"not known here", 401, "join", Left, 0},
		{"sent out", 403, "out", Left, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := begunWith(3)
			require.NotNil(t, b.Next(0))
			require.Nil(t, b.Next(0), "one at a time")
			b.Answered(0, c.status, c.word, "why", nil)
			require.Equal(t, c.state, b.State)
			require.Equal(t, 3, len(b.Acts))
			if c.againS == 0 {
				require.Nil(t, b.Next(1e9))
				return
			}
			if c.word != class.Gap {
				require.Nil(t, b.Next(c.againS*1000-1))
			}
			require.NotNil(t, b.Next(c.againS*1000))
		})
	}
}

func TestTriesGetRarerAndComeAtOnceWhenTheNetworkIsBack(t *testing.T) {
	b := begunWith(1)
	now := int64(0)
	for _, waitS := range []int64{1, 2, 4, 8, 16, 30, 30} {
		require.NotNil(t, b.Next(now))
		b.Answered(now, 0, "", "", nil)
		require.True(t, b.Offline())
		require.Nil(t, b.Next(now+waitS*1000-1))
		now += waitS * 1000
	}
	b.Hurry()
	require.NotNil(t, b.Next(now-1000))
}

func TestABoxSpeaksUpThoughNothingIsDone(t *testing.T) {
	b := begun()
	require.NotNil(t, b.Next(0))
	b.Answered(0, 200, "", "", &class.Attempt{Status: class.Going})
	require.Nil(t, b.Next(beatMS-1))
	require.Empty(t, b.Next(beatMS).Acts)
}

func TestAnotherDevicesLogIsTakenAndNotMixed(t *testing.T) {
	other := begunWith(4)
	other.Acts[1].ID = "another test"
	b, err := New(&class.Taken{Attempt: class.Attempt{Epoch: 2, Status: class.Going}, Acts: other.Acts}, begunWith(6))
	require.ErrorIs(t, err, ErrOther)
	require.Equal(t, other.Acts, b.Acts)
	require.Zero(t, b.Waiting())
}
