// Package strict walks a JSON text and collects every fault that it finds: a
// field unknown, given twice, missing, of the wrong kind or out of range. It is
// the one way in which the engine reads files.
package strict

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
)

// Walk is one reading of one text. Its zero value is ready.
type Walk struct{ faults []error }

// Field is a member that an object may have, and who reads it. read gets the
// path of the member in the text and its raw value.
type Field struct {
	Key      string
	Optional bool
	Read     func(at string, raw []byte)
}

// Fault notes a fault at a path.
func (w *Walk) Fault(at, format string, args ...any) {
	err := fmt.Errorf(format, args...)
	if at != "" {
		err = fmt.Errorf("%s: %w", at, err)
	}
	w.faults = append(w.faults, err)
}

// Clean reports whether no fault was found so far.
func (w *Walk) Clean() bool { return len(w.faults) == 0 }

// Err joins all faults, each with the file's name before it; nil when there are none.
func (w *Walk) Err(file string) error {
	named := make([]error, len(w.faults))
	for i, f := range w.faults {
		named[i] = fmt.Errorf("%s: %w", file, f)
	}
	return errors.Join(named...)
}

// Value reads one string, number, boolean or list into v and reports whether it could.
func (w *Walk) Value(at string, raw []byte, v any) bool {
	if string(raw) == "null" {
		w.Fault(at, "null")
		return false
	}
	if err := json.Unmarshal(raw, v); err != nil {
		w.Fault(at, "%.40s is not %s", strings.Trim(string(raw), `"`), wanted(v))
		return false
	}
	return true
}

// wanted is what a value had to be, in plain words.
func wanted(v any) string {
	switch v.(type) {
	case *float64:
		return "a finite number"
	case *int:
		return "a whole number in digits"
	case *string:
		return "a text"
	case *bool:
		return "true or false"
	}
	return "a list"
}

// Number returns the reader of a number within lo to hi.
func (w *Walk) Number(key string, to *float64, lo, hi float64) Field {
	return Field{Key: key, Read: func(at string, raw []byte) {
		var v float64
		if !w.Value(at, raw, &v) {
			return
		}
		if !(v >= lo && v <= hi) {
			w.Fault(at, "%v is outside %v to %v", v, lo, hi)
			return
		}
		*to = v
	}}
}

// Integer returns the reader of a whole number within lo to hi.
func (w *Walk) Integer(key string, to *int, lo, hi int) Field {
	return Field{Key: key, Read: func(at string, raw []byte) {
		var v int
		if !w.Value(at, raw, &v) {
			return
		}
		if v < lo || v > hi {
			w.Fault(at, "%d is outside %d to %d", v, lo, hi)
			return
		}
		*to = v
	}}
}

// Text returns the reader of a string that is not empty; when allowed is given,
// of one of those.
func (w *Walk) Text(key string, to *string, allowed ...string) Field {
	return Field{Key: key, Read: func(at string, raw []byte) {
		var v string
		switch {
		case !w.Value(at, raw, &v):
		case v == "":
			w.Fault(at, "empty")
		case len(allowed) > 0 && !slices.Contains(allowed, v):
			w.Fault(at, "%q is none of %q", v, allowed)
		default:
			*to = v
		}
	}}
}

// Object returns the reader of a member that is itself an object.
func (w *Walk) Object(key string, fields ...Field) Field {
	return Field{Key: key, Read: func(at string, raw []byte) { w.Members(at, raw, fields) }}
}

// Each returns the reader of a list, calling read for every item.
func (w *Walk) Each(key string, read func(at string, raw []byte)) Field {
	return Field{Key: key, Read: func(at string, raw []byte) {
		var items []json.RawMessage
		w.Value(at, raw, &items)
		for i, item := range items {
			read(fmt.Sprintf("%s[%d]", at, i), item)
		}
	}}
}

// Members reads the members of an object in the order of the text, and finds
// those unknown, repeated or missing.
func (w *Walk) Members(at string, data []byte, fields []Field) {
	seen := make([]bool, len(fields))
	err := eachMember(data, func(key string, raw []byte) {
		path := key
		if at != "" {
			path = at + "." + key
		}
		i := slices.IndexFunc(fields, func(f Field) bool { return f.Key == key })
		switch {
		case i < 0:
			w.Fault(path, "unknown field")
		case seen[i]:
			w.Fault(path, "given twice")
		default:
			seen[i] = true
			fields[i].Read(path, raw)
		}
	})
	if err != nil {
		w.Fault(at, "%w", err)
		return
	}
	for i, f := range fields {
		if !f.Optional && !seen[i] {
			w.Fault(at, "%s is missing", f.Key)
		}
	}
}

// eachMember calls read for every member of the one object in data.
func eachMember(data []byte, read func(key string, raw []byte)) error {
	dec := json.NewDecoder(bytes.NewReader(data))
	t, err := dec.Token()
	if err != nil {
		return err
	}
	if t != json.Delim('{') {
		return errors.New("not an object")
	}
	for dec.More() {
		key, err := dec.Token()
		if err != nil {
			return err
		}
		var raw json.RawMessage
		if err := dec.Decode(&raw); err != nil {
			return err
		}
		read(key.(string), raw)
	}
	if _, err := dec.Token(); err != nil {
		return err
	}
	if _, err := dec.Token(); err != io.EOF {
		return errors.New("more follows the object")
	}
	return nil
}
