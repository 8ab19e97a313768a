package record

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/tinylib/msgp/msgp"
)

// Encode writes a recording as msgp. It sets the version. It refuses, with all
// the reasons, a recording that Decode would refuse.
func Encode(r Recording) ([]byte, error) {
	r.Version = Version
	if err := check(&r); err != nil {
		return nil, err
	}
	data, err := r.MarshalMsg(nil)
	if err != nil {
		return nil, fmt.Errorf("recording: %w", err)
	}
	if len(data) > MaxBytes {
		return nil, tooLong(len(data))
	}
	return data, nil
}

// Decode reads a recording that Encode wrote. Data that is cut off, corrupt, of
// another version or out of bounds is refused with an error that names the
// field; where the data can be read to its end, all that is wrong is named.
func Decode(data []byte) (Recording, error) {
	if len(data) > MaxBytes {
		return Recording{}, tooLong(len(data))
	}
	if err := survey(data); err != nil {
		return Recording{}, err
	}
	var r Recording
	rest, err := r.UnmarshalMsg(data)
	if err != nil {
		return Recording{}, fmt.Errorf("recording: %w", err)
	}
	if len(rest) > 0 {
		err = fmt.Errorf("recording: %d bytes after the end", len(rest))
	}
	if err = errors.Join(err, check(&r)); err != nil {
		return Recording{}, err
	}
	return r, nil
}

func tooLong(n int) error {
	return fmt.Errorf("recording: %d bytes, more than %d", n, MaxBytes)
}

// survey walks over the fields without taking anything in, so that a file of
// another version is called that and not corrupt, and that no length is believed
// before the data bears it out.
func survey(data []byte) error {
	n, rest, err := msgp.ReadArrayHeaderBytes(data)
	if err != nil {
		return fmt.Errorf("recording: not a recording: %w", err)
	}
	v, rest, err := msgp.ReadIntBytes(rest)
	if err != nil {
		return fmt.Errorf("recording: version: %w", err)
	}
	if v != Version {
		return fmt.Errorf("recording: version: %d, this program reads %d", v, Version)
	}
	if n != fields {
		return fmt.Errorf("recording: %d fields, want %d", n, fields)
	}
	for _, field := range [...]string{"engine", "name", "scenario", "seed", "ticks", "hash"} {
		if rest, err = msgp.Skip(rest); err != nil {
			return fmt.Errorf("recording: %s: %w", field, err)
		}
	}
	acts, rest, err := msgp.ReadArrayHeaderBytes(rest)
	switch {
	case err != nil:
		return fmt.Errorf("recording: acts: %w", err)
	case acts > MaxActs:
		return fmt.Errorf("recording: acts: %d, more than %d", acts, MaxActs)
	case int(acts) > len(rest)/minActBytes:
		return fmt.Errorf("recording: acts: %d said, cut off after %d bytes", acts, len(rest))
	}
	return nil
}

const (
	fields      = 8 // of a Recording on file
	minActBytes = 7 // a header and six fields of a byte at least
)

// maxReasons bounds how many faults of one recording are told.
const maxReasons = 20

// reasons collects what is wrong with a recording.
type reasons struct {
	errs []error
	more int
}

func (e *reasons) add(format string, args ...any) {
	if len(e.errs) == maxReasons {
		e.more++
		return
	}
	e.errs = append(e.errs, fmt.Errorf("recording: "+format, args...))
}

func (e *reasons) err() error {
	if e.more > 0 {
		return errors.Join(append(e.errs, fmt.Errorf("recording: and %d more", e.more))...)
	}
	return errors.Join(e.errs...)
}

// name checks a name in the field at path.
func (e *reasons) name(path, s string, needed bool) {
	switch {
	case needed && s == "":
		e.add("%s: empty", path)
	case len(s) > MaxName:
		e.add("%s: %d bytes, more than %d", path, len(s), MaxName)
	case !utf8.ValidString(s):
		e.add("%s: not UTF-8", path)
	}
}

// BadText says what is wrong with a text of a trainee; "" when nothing is.
func BadText(s string) string {
	switch {
	case len(s) > MaxText:
		return fmt.Sprintf("%d bytes, more than %d", len(s), MaxText)
	case !utf8.ValidString(s):
		return "not UTF-8"
	case strings.ContainsFunc(s, func(r rune) bool { return r != '\n' && unicode.IsControl(r) }):
		return "control characters"
	}
	return ""
}

// check tells all that is wrong with the values of r.
func check(r *Recording) error {
	var e reasons
	e.name("engine", r.Engine, true)
	e.name("name", r.Name, true)
	if len(r.Scenario) == 0 {
		e.add("scenario: empty")
	}
	if r.Ticks < 0 || r.Ticks > MaxTicks {
		e.add("ticks: %d, outside 0 to %d", r.Ticks, MaxTicks)
	}
	if len(r.Acts) > MaxActs {
		e.add("acts: %d, more than %d", len(r.Acts), MaxActs)
		return e.err()
	}
	last := int64(0)
	for i := range r.Acts {
		checkAct(&e, &r.Acts[i], i, last, r.Ticks)
		last = max(last, r.Acts[i].Tick)
	}
	return e.err()
}

// checkAct tells what is wrong with act i; last is the latest tick before it,
// end that of the recording.
func checkAct(e *reasons, a *Act, i int, last, end int64) {
	at := func(field string) string { return fmt.Sprintf("acts[%d].%s", i, field) }
	switch {
	case a.Tick < 0:
		e.add("%s: %d, below 0", at("tick"), a.Tick)
	case a.Tick < last:
		e.add("%s: %d, out of order after %d", at("tick"), a.Tick, last)
	case a.Tick > end:
		e.add("%s: %d, after the end at %d", at("tick"), a.Tick, end)
	}
	e.name(at("kind"), a.Kind, true)
	e.name(at("part"), a.Part, false)
	e.name(at("id"), a.ID, false)
	if why := BadText(a.Text); why != "" {
		e.add("%s: %s", at("text"), why)
	}
	if math.IsNaN(a.Value) || math.IsInf(a.Value, 0) {
		e.add("%s: %v, not a finite number", at("value"), a.Value)
	}
}
