package class

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strconv"

	"brinebench/sim"
)

// What page and server say to each other, as JSON.

// SentAct is an act as it is sent.
type SentAct struct {
	Tick  int64   `json:"tick"`
	Kind  string  `json:"kind"`
	Part  string  `json:"part,omitempty"`
	ID    string  `json:"id,omitempty"`
	Text  string  `json:"text,omitempty"`
	Value float64 `json:"value"`
}

// Sent writes an act of a log for sending.
func Sent(a *sim.LogAct) SentAct {
	return SentAct{a.Tick, string(a.Kind), string(a.Part), a.ID, a.Text, a.Value}
}

// Act reads it again.
func (a *SentAct) Act() sim.LogAct {
	return sim.LogAct{
		Tick: a.Tick, Action: sim.Action{Kind: sim.ActionKind(a.Kind), Part: sim.Part(a.Part), ID: a.ID, Text: a.Text, Value: a.Value},
	}
}

// Batch are the acts of one upload.
type Batch []SentAct

// UnmarshalJSON reads no more acts than an upload may have: what is sent small may be
// large in memory.
func (b *Batch) UnmarshalJSON(data []byte) error {
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	begin, err := d.Token()
	switch {
	case err != nil:
		return err
	case begin == nil: // null
		return nil
	case begin != json.Delim('['):
		return errors.New("acts: no list")
	}
	for *b = (*b)[:0]; d.More(); {
		if len(*b) == MaxBatch {
			return fmt.Errorf("acts: more than %d", MaxBatch)
		}
		var a SentAct
		if err := d.Decode(&a); err != nil {
			return err
		}
		*b = append(*b, a)
	}
	return nil
}

// SentUpload is a stretch of a log as it is sent. There is no field for a score.
type SentUpload struct {
	Epoch  int64  `json:"epoch"`
	Engine string `json:"engine"`
	From   int    `json:"from"`
	Acts   Batch  `json:"acts"`
	Ticks  int64  `json:"ticks"`
	Hash   string `json:"hash,omitempty"` // 16 hex digits where the drill is handed in
}

// Upload reads an upload.
func (s *SentUpload) Upload() (*Upload, error) {
	u := &Upload{Epoch: s.Epoch, Engine: s.Engine, From: s.From, Ticks: s.Ticks}
	for i := range s.Acts {
		u.Acts = append(u.Acts, s.Acts[i].Act())
	}
	if s.Hash != "" {
		h, err := strconv.ParseUint(s.Hash, 16, 64)
		if err != nil {
			return nil, fmt.Errorf("hash: %.40q: not 16 hex digits", s.Hash)
		}
		u.Hash = &h
	}
	return u, nil
}

// Shown is a class with its drills.
type Shown struct {
	Class
	Drills []Drill `json:"drills"`
}

// Mine is what a trainee's page shows of the class.
type Mine struct {
	Class    Shown     `json:"class"`
	Member   Member    `json:"member"`
	Number   int       `json:"number"` // of the member, by which the wall calls them
	Attempts []Attempt `json:"attempts"`
	Scores   []Score   `json:"scores"`
	Seq      int64     `json:"seq"`   // of the last event
	Heard    []Event   `json:"heard"` // what the instructor has told them
	NowMS    int64     `json:"now"`
	ToldMS   int64     `json:"told"` // when exams are told of; 0 while that is not known
}

// Score is what a drill came to.
type Score struct {
	Drill int64   `json:"drill"`
	Score float64 `json:"score"` // 0..100
}

// Taken is what a page needs to begin a drill, or to go on with it.
type Taken struct {
	Attempt Attempt         `json:"attempt"`
	Kind    Kind            `json:"kind"`
	Exam    bool            `json:"exam"`
	Name    string          `json:"name"` // of the scenario in recordings
	Seed    uint64          `json:"seed,string"`
	Body    json.RawMessage `json:"body"`
	Acts    []SentAct       `json:"acts"`
	Answer  json.RawMessage `json:"answer,omitempty"` // as far as it has come, of a drill that asks for one

	Nickname string `json:"nickname,omitempty"` // told to the instructor, who looks on
}

// News is what the board has to show anew.
type News struct {
	Class    Class     `json:"class"`
	Drills   int       `json:"drills"` // so many has the class: who has not asks for them again
	Rows     []Row     `json:"rows"`   // those that changed
	Mistakes []Mistake `json:"mistakes"`
	Alarms   []Event   `json:"alarms"`
	Behind   int64     `json:"behind"` // beliefs that are yet to be worked out
	NowMS    int64     `json:"now"`
}

// Choice is one thing that a drill can be made of.
type Choice struct {
	Kind   Kind     `json:"kind"`
	Ref    string   `json:"ref"`
	Title  string   `json:"title"`
	Rung   int      `json:"rung,omitempty"`
	Faults []string `json:"faults,omitempty"` // ids of what is wrong in a call; to the instructor alone

	Titles map[string]string `json:"titles,omitempty"` // a call's title in other languages, by their tags
	Asks   []Asks            `json:"asks,omitempty"`   // what a sequence drill asks
}

// Asks is how many exercises of a kind a sequence drill asks.
type Asks struct {
	Kind sim.ExerciseKind `json:"kind"`
	N    int              `json:"n"`
}

// Has reports whether something is wrong in a call; "" is in every one.
func (c *Choice) Has(fault string) bool { return fault == "" || slices.Contains(c.Faults, fault) }

// Wanted is a drill as the instructor asks for it: named, or drawn.
type Wanted struct {
	Kind   Kind   `json:"kind"`
	Ref    string `json:"ref"`  // "" draws one
	Rung   [2]int `json:"rung"` // to draw a call from, least and most; 0 for any
	Seed   uint64 `json:"seed"` // 0 draws one; of a sizing drill its job's number, MostJob at most
	Exam   bool   `json:"exam"`
	Fault  string `json:"fault,omitempty"`  // to draw a call in which this is wrong; "" for any
	Member int64  `json:"member,omitempty"` // who alone is to do it; 0 for all
}

// Calls are the calls that one is drawn from.
func (w *Wanted) Calls(all []Choice) (from []Choice) {
	for _, c := range all {
		switch {
		case c.Kind != Call, !c.Has(w.Fault):
		case w.Ref != "" && c.Ref != w.Ref:
		case w.Rung[0] > 0 && c.Rung < w.Rung[0], w.Rung[1] > 0 && c.Rung > w.Rung[1]:
		default:
			from = append(from, c)
		}
	}
	return from
}
