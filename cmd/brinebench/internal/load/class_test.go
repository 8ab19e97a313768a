package load

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"brinebench/cmd/brinebench/internal/store"
	"brinebench/cmd/brinebench/internal/store/storetest"
	"brinebench/game/class"
	"brinebench/scenarios"
	"brinebench/sim"
)

const (
	mill     = "hard-water-at-the-mill-house"
	seed     = 5
	password = "correct horse battery"
)

// own is what a page would reckon a score with.
var own = sync.OnceValues(func() (*sim.Assessor, error) {
	data, err := scenarios.FS.ReadFile(mill + ".json")
	if err != nil {
		return nil, err
	}
	return sim.NewAssessor(mill, data, seed, nil)
})

// logs are plays of one call, all different: those of testdata/replays, each with some
// readings of its own before, and its acts when they can be begun.
func logs(t *testing.T, n int) (list []*sim.Log) {
	t.Helper()
	data, err := scenarios.FS.ReadFile(mill + ".json")
	require.NoError(t, err)
	opened, err := sim.Open(mill, data, seed)
	require.NoError(t, err)
	for opened.Prepare(1000) < 1 {
	}
	var plays []sim.Log
	for _, name := range []string{"expert", "guesser"} {
		recording, err := os.ReadFile(filepath.Join("..", "..", "..", "..", "testdata", "replays", name+".msgp"))
		require.NoError(t, err)
		play, err := sim.LogOf(recording)
		require.NoError(t, err)
		plays = append(plays, play)
	}
	chance := rand.New(rand.NewPCG(1, 2))
	for i := range n {
		list = append(list, varied(t, opened.Clone(), &plays[i%len(plays)], chance))
	}
	return list
}

func varied(t *testing.T, s *sim.Session, play *sim.Log, chance *rand.Rand) *sim.Log {
	t.Helper()
	first := []string{"hardness-raw", "hardness-house", "pressure-in", "salt-probe", "brine-strength", "brine-level"}
	do := func(a sim.Action) {
		for s.Call().BusyUntilTick > 0 {
			s.Tick()
		}
		s.Do(a) // what cannot be begun is left out
	}
	for range chance.IntN(5) {
		do(sim.Action{Kind: sim.ActTest, ID: first[chance.IntN(len(first))]})
	}
	for i := range play.Acts {
		gap := play.Acts[i].Tick
		if i > 0 {
			gap -= play.Acts[i-1].Tick
		}
		for end := s.Ticks() + gap; s.Ticks() < end; {
			s.Tick()
		}
		do(play.Acts[i].Action)
	}
	for s.Call().BusyUntilTick > 0 {
		s.Tick()
	}
	recording, err := s.Recording()
	require.NoError(t, err)
	log, err := sim.LogOf(recording)
	require.NoError(t, err)
	require.True(t, s.Call().Finished)
	return &log
}

// lesson is a class at work.
type lesson struct {
	t       *testing.T
	servers []*process
	desk    *browser
	class   struct {
		ID     int64
		Code   string
		Drills []struct{ ID int64 }
	}
	people []*trainee
	told   int    // events that all were told
	played func() // called when everybody has handed in

	mu     sync.Mutex
	board  map[int64][]acked // by member, as the board showed it
	scores map[int64]float64
}

func begin(t *testing.T, servers ...*process) *lesson {
	t.Helper()
	l := &lesson{t: t, servers: servers, desk: newBrowser(servers[0].url), board: map[int64][]acked{}, scores: map[int64]float64{}}
	require.NoError(t, l.desk.again("POST", "/api/desk/password", map[string]string{"Setup": servers[0].setup, "Password": password}, nil))
	drill := map[string]any{"kind": "call", "ref": mill, "seed": seed}
	require.NoError(t, l.desk.again("POST", "/api/classes", map[string]any{"name": "Tuesday", "drills": []any{drill}}, &l.class))
	for i, log := range logs(t, *trainees) {
		l.people = append(l.people, &trainee{
			browser: newBrowser(servers[i%len(servers)].url), chance: rand.New(rand.NewPCG(uint64(i), 7)), name: fmt.Sprint("trainee ", i),
			drill: l.class.Drills[0].ID, log: log, acts: actsOf(log),
		})
	}
	return l
}

// play has everybody play, the instructor watching and talking.
func (l *lesson) play() {
	l.t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	var beside sync.WaitGroup
	beside.Go(func() { l.watch(ctx) })
	beside.Go(func() { l.talk(ctx) })
	errs := make([]error, len(l.people))
	var all sync.WaitGroup
	for i, x := range l.people {
		all.Go(func() { errs[i] = x.play(l.class.Code, time.Duration(*seconds*float64(time.Second))) })
	}
	all.Wait()
	for _, err := range errs {
		require.NoError(l.t, err)
	}
	if l.played != nil {
		l.played()
	}
	l.untilScored()
	stop()
	beside.Wait()
}

// watch is the instructor's board.
func (l *lesson) watch(ctx context.Context) {
	for ctx.Err() == nil {
		events(ctx, l.desk, fmt.Sprintf("/api/classes/%d/events", l.class.ID), 0, func(_ string, data []byte) {
			var n struct {
				Rows []struct {
					Member int64
					Acts   int
					Scores map[string]float64
				}
			}
			if json.Unmarshal(data, &n) != nil {
				return
			}
			now := time.Now()
			l.mu.Lock()
			defer l.mu.Unlock()
			for _, row := range n.Rows {
				l.board[row.Member] = append(l.board[row.Member], acked{row.Acts, now})
				for _, score := range row.Scores {
					l.scores[row.Member] = score
				}
			}
		})
		time.Sleep(20 * time.Millisecond)
	}
}

// talk tells the class something ten times in a lesson.
func (l *lesson) talk(ctx context.Context) {
	for {
		select {
		case <-ctx.Done():
			return
		case <-time.After(time.Duration(*seconds * float64(time.Second) / 10)):
		}
		if l.desk.again("POST", fmt.Sprintf("/api/classes/%d/message", l.class.ID), map[string]string{"text": "<b>look</b>"}, nil) == nil {
			l.told++
		}
	}
}

func (l *lesson) untilScored() {
	l.t.Helper()
	require.Eventually(l.t, func() bool {
		l.mu.Lock()
		defer l.mu.Unlock()
		return len(l.scores) == len(l.people)
	}, 25*time.Minute, 50*time.Millisecond, "all are scored")
}

// check holds what the server has against what was done.
func (l *lesson) check() {
	l.t.Helper()
	var kept store.Export
	require.NoError(l.t, l.desk.again("GET", fmt.Sprintf("/api/classes/%d/export", l.class.ID), nil, &kept))
	acts := map[int64][]class.Act{}
	for _, x := range kept.Acts {
		acts[x.Member] = x.Acts
	}
	all, heard := 0, 0
	for _, x := range l.people {
		own := acts[x.member]
		require.Len(l.t, own, len(x.log.Acts), "no act lost or doubled")
		for i := range own {
			require.Equal(l.t, i, own[i].Seq)
			require.Equal(l.t, x.log.Acts[i], own[i].LogAct)
		}
		all += len(own)
		for i, seq := range x.heard {
			require.Equal(l.t, int64(i+1), seq, "no event lost, doubled or out of order")
		}
		heard += len(x.heard)
	}
	require.Positive(l.t, l.told)
	require.GreaterOrEqual(l.t, len(kept.Events), l.told)
	require.Greater(l.t, heard, len(l.people), "they did listen")
	l.compareScores()
	l.t.Logf("%d trainees, %d acts, all there once and in order; %d events told, %d heard", len(l.people), all, l.told, heard)
}

// compareScores holds the server's scores against those that the pages would reckon.
func (l *lesson) compareScores() {
	l.t.Helper()
	own, err := own()
	require.NoError(l.t, err)
	different := map[float64]bool{}
	for i, x := range l.people {
		report, err := own.Judge(x.log, nil)
		require.NoError(l.t, err)
		if i < *judged {
			recording, err := own.Recording(x.log)
			require.NoError(l.t, err)
			report, err = sim.Judge(recording, nil)
			require.NoError(l.t, err)
		}
		require.Equal(l.t, report.Score, l.scores[x.member], "bit for bit")
		different[report.Score] = true
	}
	require.Greater(l.t, len(different), 1, "the logs differ, and so do the scores")
	l.t.Logf("%d scores equal bit for bit, %d of them different, %d by sim.Judge", len(l.people), len(different), min(*judged, len(l.people)))
}

// delays are how long an act that was acknowledged took to the board.
func (l *lesson) delays() (list []time.Duration) {
	l.mu.Lock()
	defer l.mu.Unlock()
	for _, x := range l.people {
		for _, a := range x.acks {
			for _, b := range l.board[x.member] {
				if b.acts >= a.acts {
					list = append(list, max(0, b.at.Sub(a.at)))
					break
				}
			}
		}
	}
	slices.Sort(list)
	return list
}

func TestAClassOfManyOverBadLines(t *testing.T) {
	storetest.Each(t, func(t *testing.T, address string) {
		servers := []*process{start(t, address)}
		if store.IsPostgres(address) { // two programs side by side
			servers = append(servers, start(t, address))
		}
		l := begin(t, servers...)
		began := time.Now()
		usage := func(when string) {
			for _, p := range servers {
				used := p.usage()
				t.Logf("%s, after %v: %v of processor time, %d MB at most", when, time.Since(began).Round(time.Second), used.cpu, used.peakKB/1024)
			}
		}
		l.played = func() {
			d := l.delays()
			require.NotEmpty(t, d)
			t.Logf("board after an act: %v in the middle, %v at 95 %%, %v at most (%d acts)", d[len(d)/2], d[len(d)*95/100], d[len(d)-1], len(d))
			usage("handed in")
		}
		l.play()
		usage("scored")
		l.check()
	})
}

func TestNothingAcknowledgedIsLostWhenTheServerIsKilled(t *testing.T) {
	storetest.Each(t, func(t *testing.T, address string) {
		p := start(t, address)
		l := begin(t, p)
		var killer sync.WaitGroup
		killer.Go(func() {
			for range *kills {
				time.Sleep(time.Duration(*seconds * float64(time.Second) / float64(*kills+1)))
				p.kill()
				p.run()
			}
		})
		l.play()
		killer.Wait()
		l.check()
		t.Logf("killed %d times", *kills)
	})
}
