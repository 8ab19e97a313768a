package valve

import "brinebench/sim/strict"

// DecodeProgram reads a program file of the form
//
//	{"id": …, "name": …, "why": …, "drum_deg_s": …, "injector_discharges_below": false, "max_refill_s": …,
//	 "stops": [{"id": …, "name": …, "angle_deg": …, "seconds": …, "open": ["inlet", …], "why": …}, …]}
//
// Only injector_discharges_below may be left out. The error joins every fault
// found, each naming the file and the field.
func DecodeProgram(name string, data []byte) (Program, error) {
	var p Program
	w := &strict.Walk{}
	below := strict.Field{Key: "injector_discharges_below", Optional: true, Read: func(at string, raw []byte) {
		w.Value(at, raw, &p.InjectorDischargesBelow)
	}}
	w.Members("", data, []strict.Field{
		value(w, "id", &p.ID), value(w, "name", &p.Name), w.Text("why", &p.Why),
		value(w, "drum_deg_s", &p.DrumDegS), below, value(w, "max_refill_s", &p.MaxRefillS),
		w.Each("stops", func(at string, raw []byte) { p.Stops = append(p.Stops, decodeStop(w, at, raw)) }),
	})
	// A field that could not be read has its zero value: to judge that too would
	// report one fault twice.
	if w.Clean() {
		for _, err := range p.Validate() {
			w.Fault("", "%w", err)
		}
	}
	if err := w.Err(name); err != nil {
		return Program{}, err
	}
	return p, nil
}

// value reads a member whose range Validate judges.
func value(w *strict.Walk, key string, to any) strict.Field {
	return strict.Field{Key: key, Read: func(at string, raw []byte) { w.Value(at, raw, to) }}
}

func decodeStop(w *strict.Walk, at string, data []byte) (st Stop) {
	w.Members(at, data, []strict.Field{
		value(w, "id", &st.ID), value(w, "name", &st.Name), w.Text("why", &st.Why),
		value(w, "angle_deg", &st.AngleDeg), value(w, "seconds", &st.Seconds),
		w.Each("open", func(at string, raw []byte) { decodeSeat(w, at, raw, &st.Open) }),
	})
	return st
}

func decodeSeat(w *strict.Walk, at string, raw []byte, open *[NumSeats]bool) {
	var name string
	if !w.Value(at, raw, &name) {
		return
	}
	switch s, ok := SeatNamed(name); {
	case !ok:
		w.Fault(at, "no seat is named %q", name)
	case open[s]:
		w.Fault(at, "seat %q is named twice", name)
	default:
		open[s] = true
	}
}
