package game

import (
	"bytes"
	"compress/gzip"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"brinebench/sim"
)

// Save is a call as the browser keeps it between two visits: the recording, and
// what the person had on the page. Bounds are those of the constants below.
type Save struct {
	Recording []byte            // of sim.Session
	Pace      float64           // of Paces
	Section   string            // of the panels
	Part      sim.Part          // selected, "" for none
	Fields    map[string]string // what the page's fields hold, by id
	Report    json.RawMessage   `json:",omitempty"` // a sim.Report once the call has been judged, else nil
	Shown     bool              // an expert was watched at this unit
	StartedS  int64             // when the call was opened, s since 1970 UTC
}

// Bounds of a Save.
const (
	MaxSaveText  = 2 << 20 // bytes of its text
	MaxFields    = 200
	MaxFieldText = 20_000 // bytes in one field
	maxSaveName  = 128    // bytes in a field's id, a section or a part
	maxSaveJSON  = 16 << 20
	saveFormat   = "call-1"
)

// Glance is what the list of calls needs to know of a Save.
type Glance struct {
	Judged  bool
	Minutes float64 // of the call
	SavedMS float64 // when, in the browser's time
}

// packer is kept from one save to the next: each takes most of a megabyte.
var packer = gzip.NewWriter(nil)

// Text writes a Save as a line of text: the format's name, what Glance says, and
// the rest packed.
func (s *Save) Text(g Glance) (string, error) {
	if err := s.check(); err != nil {
		return "", err
	}
	plain, err := json.Marshal(s)
	if err != nil {
		return "", fmt.Errorf("kept call: %w", err)
	}
	var packed bytes.Buffer
	packer.Reset(&packed)
	if _, err := packer.Write(plain); err != nil {
		return "", fmt.Errorf("kept call: %w", err)
	}
	if err := packer.Close(); err != nil {
		return "", fmt.Errorf("kept call: %w", err)
	}
	text := fmt.Sprintf("%s %t %.2f %.0f %s", saveFormat, g.Judged, g.Minutes, g.SavedMS, base64.StdEncoding.EncodeToString(packed.Bytes()))
	if len(text) > MaxSaveText {
		return "", fmt.Errorf("kept call: %d bytes, more than %d", len(text), MaxSaveText)
	}
	return text, nil
}

// ReadGlance reads the head of what Text wrote.
func ReadGlance(text string) (g Glance, err error) {
	format, rest, _ := strings.Cut(text, " ")
	if format != saveFormat {
		return g, errors.New("kept call: of another version, or damaged")
	}
	head := rest[:min(len(rest), 100)] // the packed part is long
	if _, err := fmt.Sscanf(head, "%t %f %f", &g.Judged, &g.Minutes, &g.SavedMS); err != nil {
		return g, fmt.Errorf("kept call: head: %w", err)
	}
	return g, nil
}

// ReadSave reads what Text wrote. Text that is cut off, damaged, of another
// version or out of bounds is refused.
func ReadSave(text string) (*Save, error) {
	if len(text) > MaxSaveText {
		return nil, fmt.Errorf("kept call: %d bytes, more than %d", len(text), MaxSaveText)
	}
	if _, err := ReadGlance(text); err != nil {
		return nil, err
	}
	packed := base64.NewDecoder(base64.StdEncoding, strings.NewReader(text[strings.LastIndexByte(text, ' ')+1:]))
	r, err := gzip.NewReader(packed)
	if err != nil {
		return nil, fmt.Errorf("kept call: %w", err)
	}
	plain, err := io.ReadAll(io.LimitReader(r, maxSaveJSON+1))
	if err != nil {
		return nil, fmt.Errorf("kept call: %w", err)
	}
	if len(plain) > maxSaveJSON {
		return nil, fmt.Errorf("kept call: unpacks to more than %d bytes", maxSaveJSON)
	}
	s := new(Save)
	if err := json.Unmarshal(plain, s); err != nil {
		return nil, fmt.Errorf("kept call: %w", err)
	}
	return s, s.check()
}

// check tells all that is out of bounds.
func (s *Save) check() error {
	var errs []error
	add := func(format string, args ...any) { errs = append(errs, fmt.Errorf("kept call: "+format, args...)) }
	if len(s.Recording) == 0 {
		add("recording: empty")
	}
	if !slices.Contains(Paces, s.Pace) {
		add("pace: %v, none of %v", s.Pace, Paces)
	}
	if s.StartedS < 0 {
		add("started: %d, before 1970", s.StartedS)
	}
	if len(s.Section) > maxSaveName {
		add("section: %d bytes, more than %d", len(s.Section), maxSaveName)
	}
	if len(s.Part) > maxSaveName {
		add("part: %d bytes, more than %d", len(s.Part), maxSaveName)
	}
	if len(s.Fields) > MaxFields {
		add("fields: %d, more than %d", len(s.Fields), MaxFields)
		return errors.Join(errs...)
	}
	for id, text := range s.Fields {
		if len(id) > maxSaveName || len(text) > MaxFieldText {
			add("fields: %.40q: %d bytes, more than %d", id, len(text), MaxFieldText)
		}
	}
	return errors.Join(errs...)
}
