package room

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"

	"brinebench/cmd/brinebench/internal/class"
	"brinebench/sim"
)

// decode reads one JSON value with known fields only, and nothing behind it.
func decode(data []byte, into any) error {
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return err
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return errors.New("something behind the end")
	}
	return nil
}

// sentAct is an act as it is sent.
type sentAct struct {
	Tick  int64   `json:"tick"`
	Kind  string  `json:"kind"`
	Part  string  `json:"part,omitempty"`
	ID    string  `json:"id,omitempty"`
	Text  string  `json:"text,omitempty"`
	Value float64 `json:"value"`
}

// sentUpload is a stretch of a log as it is sent. There is no field for a score.
type sentUpload struct {
	Epoch  int64     `json:"epoch"`
	Engine string    `json:"engine"`
	From   int       `json:"from"`
	Acts   []sentAct `json:"acts"`
	Ticks  int64     `json:"ticks"`
	Hash   string    `json:"hash,omitempty"` // 16 hex digits where the drill is handed in
}

func sent(a *sim.LogAct) sentAct {
	return sentAct{a.Tick, string(a.Kind), string(a.Part), a.ID, a.Text, a.Value}
}

// upload reads an upload.
func (s *sentUpload) upload() (*class.Upload, error) {
	u := &class.Upload{Epoch: s.Epoch, Engine: s.Engine, From: s.From, Ticks: s.Ticks}
	for i := range s.Acts {
		a := &s.Acts[i]
		u.Acts = append(u.Acts, sim.LogAct{
			Tick: a.Tick, Action: sim.Action{Kind: sim.ActionKind(a.Kind), Part: sim.Part(a.Part), ID: a.ID, Text: a.Text, Value: a.Value},
		})
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
