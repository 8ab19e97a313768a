package valve

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
)

// DecodeProgram reads a program file of the form
//
//	{"id": …, "name": …, "drum_deg_s": …, "injector_discharges_below": false,
//	 "stops": [{"id": …, "name": …, "angle_deg": …, "seconds": …, "open": ["inlet", …]}, …]}
//
// Only injector_discharges_below may be left out. The error joins every fault
// found, each naming the file and the field.
func DecodeProgram(name string, data []byte) (Program, error) {
	var p Program
	d := decoder{}
	d.object("", data, []field{
		{"id", true, func(at string, raw []byte) { d.value(at, raw, &p.ID) }},
		{"name", true, func(at string, raw []byte) { d.value(at, raw, &p.Name) }},
		{"drum_deg_s", true, func(at string, raw []byte) { d.value(at, raw, &p.DrumDegS) }},
		{"injector_discharges_below", false, func(at string, raw []byte) { d.value(at, raw, &p.InjectorDischargesBelow) }},
		{"stops", true, func(at string, raw []byte) {
			for i, r := range d.array(at, raw) {
				p.Stops = append(p.Stops, d.stop(fmt.Sprintf("%s[%d]", at, i), r))
			}
		}},
	})
	// A field that could not be read has its zero value: to judge that too would
	// report one fault twice.
	if len(d.errs) == 0 {
		d.errs = p.Validate()
	}
	for i, err := range d.errs {
		d.errs[i] = fmt.Errorf("%s: %w", name, err)
	}
	if len(d.errs) > 0 {
		return Program{}, errors.Join(d.errs...)
	}
	return p, nil
}

func (d *decoder) stop(at string, data []byte) (st Stop) {
	d.object(at, data, []field{
		{"id", true, func(at string, raw []byte) { d.value(at, raw, &st.ID) }},
		{"name", true, func(at string, raw []byte) { d.value(at, raw, &st.Name) }},
		{"angle_deg", true, func(at string, raw []byte) { d.value(at, raw, &st.AngleDeg) }},
		{"seconds", true, func(at string, raw []byte) { d.value(at, raw, &st.Seconds) }},
		{"open", true, func(at string, raw []byte) {
			for i, r := range d.array(at, raw) {
				d.seat(fmt.Sprintf("%s[%d]", at, i), r, &st.Open)
			}
		}},
	})
	return st
}

func (d *decoder) seat(at string, raw []byte, open *[NumSeats]bool) {
	var name string
	if !d.value(at, raw, &name) {
		return
	}
	switch s, ok := SeatNamed(name); {
	case !ok:
		d.fault(at, "no seat is named %q", name)
	case open[s]:
		d.fault(at, "seat %q is named twice", name)
	default:
		open[s] = true
	}
}

// decoder collects faults over a strict walk of a JSON text.
type decoder struct{ errs []error }

// field is a member that an object may have, and who reads it.
type field struct {
	key      string
	required bool
	read     func(at string, raw []byte)
}

func (d *decoder) fault(at, format string, args ...any) {
	err := fmt.Errorf(format, args...)
	if at != "" {
		err = fmt.Errorf("%s: %w", at, err)
	}
	d.errs = append(d.errs, err)
}

// value reads one string, number or boolean into v and reports whether it could.
func (d *decoder) value(at string, raw []byte, v any) bool {
	if string(raw) == "null" {
		d.fault(at, "null")
		return false
	}
	if err := json.Unmarshal(raw, v); err != nil {
		d.fault(at, "%w", err)
		return false
	}
	return true
}

func (d *decoder) array(at string, raw []byte) (items []json.RawMessage) {
	d.value(at, raw, &items)
	return items
}

// object reads the members of an object in the order of the text, and finds
// those unknown, repeated or missing.
func (d *decoder) object(at string, data []byte, fields []field) {
	seen := make([]bool, len(fields))
	err := eachMember(data, func(key string, raw []byte) {
		path := key
		if at != "" {
			path = at + "." + key
		}
		for i, f := range fields {
			if f.key != key {
				continue
			}
			if seen[i] {
				d.fault(path, "given twice")
				return
			}
			seen[i] = true
			f.read(path, raw)
			return
		}
		d.fault(path, "unknown field")
	})
	if err != nil {
		d.fault(at, "%w", err)
		return
	}
	for i, f := range fields {
		if f.required && !seen[i] {
			d.fault(at, "%s is missing", f.key)
		}
	}
}

// eachMember calls read for every member of the one object in data.
func eachMember(data []byte, read func(key string, raw []byte)) error {
	dec := json.NewDecoder(bytes.NewReader(data))
	if t, err := dec.Token(); err != nil || t != json.Delim('{') {
		return orErr(err, "not an object")
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

func orErr(err error, text string) error {
	if err != nil {
		return err
	}
	return errors.New(text)
}
