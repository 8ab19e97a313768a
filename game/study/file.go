package study

import (
	"encoding/json"
	"fmt"
	"strconv"

	"brinebench/sim/strict"
)

// MaxBytes is the greatest size of a file of progress.
const MaxBytes = 1 << 20

const (
	fileFormat = "brinebench-progress-1"
	maxID      = 64   // letters of an id
	maxTrue    = 4    // faults of a call
	maxTimeS   = 4e9  // in the year 2096
	maxMinutes = 1e5  // of call time
	maxHints   = 1000 // in a call
)

// filePlay is a play as the file has it. Seed and hash are texts, since a number
// of JSON may lose its last digits on the way.
type filePlay struct {
	Call     string   `json:"call"`
	Seed     string   `json:"seed"` // decimal
	Hash     string   `json:"hash"` // 16 hexadecimal digits
	StartedS int64    `json:"started_s"`
	EndedS   int64    `json:"ended_s"`
	Score    float64  `json:"score"`
	Economy  float64  `json:"economy"`
	Minutes  float64  `json:"minutes"`
	Hints    int      `json:"hints"`
	Shown    bool     `json:"shown"`
	Named    string   `json:"named,omitempty"`
	True     []string `json:"true"`
}

// Encode writes the record as a file.
func (p *Progress) Encode() []byte {
	file := struct {
		Format string     `json:"format"`
		Plays  []filePlay `json:"plays"`
	}{fileFormat, make([]filePlay, len(p.Plays))}
	for i, x := range p.Plays {
		file.Plays[i] = filePlay{
			Call: x.Call, Seed: strconv.FormatUint(x.Seed, 10), Hash: fmt.Sprintf("%016x", x.Hash),
			StartedS: x.StartedS, EndedS: x.EndedS, Score: x.Score, Economy: x.Economy, Minutes: x.Minutes,
			Hints: x.Hints, Shown: x.Shown, Named: x.Named, True: append([]string{}, x.True...),
		}
	}
	text, err := json.Marshal(file)
	if err != nil {
		panic("study: " + err.Error())
	}
	return text
}

// Decode reads a record. The error joins every fault found, each naming the file
// and the field.
func Decode(name string, data []byte) (Progress, error) {
	if len(data) > MaxBytes {
		return Progress{}, fmt.Errorf("%s: %d bytes, more than the %d that a file of progress may have", name, len(data), MaxBytes)
	}
	w := &strict.Walk{}
	var version string
	var plays []Play
	w.Members("", data, []strict.Field{
		w.Text("format", &version, fileFormat),
		w.Each("plays", func(at string, raw []byte) {
			if len(plays) == MaxPlays {
				w.Fault(at, "more than the %d plays that a record holds", MaxPlays)
			}
			plays = append(plays, readPlay(w, at, raw))
		}),
	})
	if err := w.Err(name); err != nil {
		return Progress{}, err
	}
	var p Progress
	p.Add(plays...)
	return p, nil
}

func readPlay(w *strict.Walk, at string, raw []byte) Play {
	var x Play
	var started, ended int
	seconds := func(key string, to *int) strict.Field { return w.Integer(key, to, 0, maxTimeS) }
	named := id(w, "named", &x.Named)
	named.Optional = true
	w.Members(at, raw, []strict.Field{
		id(w, "call", &x.Call),
		whole(w, "seed", &x.Seed, 10),
		whole(w, "hash", &x.Hash, 16),
		seconds("started_s", &started),
		seconds("ended_s", &ended),
		w.Number("score", &x.Score, 0, 100),
		w.Number("economy", &x.Economy, 0, 1),
		w.Number("minutes", &x.Minutes, 0, maxMinutes),
		w.Integer("hints", &x.Hints, 0, maxHints),
		{Key: "shown", Read: func(at string, raw []byte) { w.Value(at, raw, &x.Shown) }},
		named,
		w.Each("true", func(at string, raw []byte) {
			var fault string
			id(w, "", &fault).Read(at, raw)
			if len(x.True) == maxTrue {
				w.Fault(at, "more than %d faults", maxTrue)
			}
			x.True = append(x.True, fault)
		}),
	})
	if x.StartedS, x.EndedS = int64(started), int64(ended); ended < started {
		w.Fault(at+".ended_s", "%d is before started_s, %d", ended, started)
	}
	return x
}

// id returns the reader of the id of a call or a fault.
func id(w *strict.Walk, key string, to *string) strict.Field {
	return strict.Field{Key: key, Read: func(at string, raw []byte) {
		if !w.Value(at, raw, to) {
			return
		}
		sound := len(*to) > 0 && len(*to) <= maxID
		for _, c := range *to {
			sound = sound && (c == '-' || '0' <= c && c <= '9' || 'a' <= c && c <= 'z')
		}
		if !sound {
			w.Fault(at, "%.40q is no id: small letters, digits and hyphens, at most %d", *to, maxID)
		}
	}}
}

// whole returns the reader of a whole number of 64 bits that is written as a text.
func whole(w *strict.Walk, key string, to *uint64, base int) strict.Field {
	return strict.Field{Key: key, Read: func(at string, raw []byte) {
		var text string
		if !w.Value(at, raw, &text) {
			return
		}
		var err error
		if *to, err = strconv.ParseUint(text, base, 64); err != nil {
			w.Fault(at, "%.40q is no whole number of 64 bits to the base %d", text, base)
		}
	}}
}
