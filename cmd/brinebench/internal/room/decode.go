package room

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
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
