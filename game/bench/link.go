package bench

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"brinebench/sim"
)

// Bounds of a link.
const (
	MaxLink    = 8 << 10 // bytes
	maxName    = 80      // bytes of a unit's name
	MaxTicks   = 24 * 3600 * ticksPerS
	maxCharts  = 8
	linkFormat = "1"
)

// Link is what an address holds: the set-up, and what its charts show.
type Link struct {
	Plan
	Charts []string // quantities, by ID
	OverS  float64  // time that the charts show, s
}

// Encode writes a link as the part of an address behind its #. Nothing in it has to be
// escaped. A value is written so that the same bits come back.
func (l *Link) Encode() string {
	var acts []string
	for _, a := range l.Acts {
		acts = append(acts, strings.Join([]string{
			strconv.FormatInt(a.Tick, 10), strconv.Itoa(a.Unit), a.Knob, strconv.FormatFloat(a.Value, 'g', -1, 64),
		}, ","))
	}
	fields := []string{
		"v=" + linkFormat, "units=" + strings.Join(l.Units, ","), "seed=" + strconv.FormatUint(l.Seed, 10),
		"tick=" + strconv.FormatInt(l.Tick, 10),
	}
	if len(acts) > 0 {
		fields = append(fields, "acts="+strings.Join(acts, ";"))
	}
	if len(l.Charts) > 0 {
		fields = append(fields, "charts="+strings.Join(l.Charts, ","))
	}
	if l.OverS > 0 {
		fields = append(fields, "over="+strconv.FormatFloat(l.OverS, 'g', -1, 64))
	}
	return strings.ReplaceAll(strings.Join(fields, "&"), "e+", "e") // a + may come back as a space
}

// name is what a unit can be called.
var name = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[a-z0-9][a-z0-9.-]*$`) })

// reader reads a link's fields and collects what is wrong with them.
type reader struct{ errs []error }

func (r *reader) fault(field string, wrong error) {
	r.errs = append(r.errs, fmt.Errorf("link: %s: %w", field, wrong))
}

// Decode reads a link. The error joins every fault, each naming its field. Whether the
// units that it names are to be had, and take what is set, New finds.
func Decode(text string) (Link, error) {
	var l Link
	if len(text) > MaxLink {
		return l, fmt.Errorf("link: %d bytes, more than the %d that one may have", len(text), MaxLink)
	}
	r := &reader{}
	seen := map[string]bool{}
	for _, field := range strings.Split(text, "&") {
		key, value, _ := strings.Cut(field, "=")
		if seen[key] {
			r.fault(clip(key), errors.New("is there twice"))
			continue
		}
		seen[key] = true
		r.field(&l, key, value)
	}
	for _, key := range []string{"v", "units", "seed", "tick"} {
		if !seen[key] {
			r.fault(key, errors.New("is missing"))
		}
	}
	r.together(&l)
	if len(r.errs) > 0 {
		return Link{}, errors.Join(r.errs...)
	}
	return l, nil
}

func (r *reader) field(l *Link, key, value string) {
	switch key {
	case "v":
		if value != linkFormat {
			r.fault(key, fmt.Errorf("%q, and this is %q", clip(value), linkFormat))
		}
	case "units":
		l.Units = r.list(key, value, MostUnits)
	case "seed":
		seed, err := strconv.ParseUint(value, 10, 64)
		if err != nil {
			r.fault(key, fmt.Errorf("%q is no whole number", clip(value)))
		}
		l.Seed = seed
	case "tick":
		l.Tick = r.tick(key, value)
	case "acts":
		r.acts(l, value)
	case "charts":
		l.Charts = r.list(key, value, maxCharts)
		for i, id := range l.Charts {
			if _, ok := QuantityAt(id); !ok {
				r.fault(fmt.Sprintf("charts[%d]", i), fmt.Errorf("no quantity is named %q", clip(id)))
			}
			if slices.Contains(l.Charts[:i], id) {
				r.fault(fmt.Sprintf("charts[%d]", i), fmt.Errorf("%q is there twice", clip(id)))
			}
		}
	case "over":
		l.OverS = r.number(key, value)
		if !(l.OverS >= 0 && l.OverS <= float64(windowTicks)*sim.TickS) {
			r.fault(key, fmt.Errorf("%v is outside 0 to %v", l.OverS, float64(windowTicks)*sim.TickS))
		}
	default:
		r.fault(clip(key), errors.New("is not known"))
	}
}

func (r *reader) list(key, value string, most int) []string {
	list := strings.Split(value, ",")
	if len(list) > most {
		r.fault(key, fmt.Errorf("%d, more than %d", len(list), most))
		return nil
	}
	for i, s := range list {
		if len(s) > maxName || !name().MatchString(s) {
			r.fault(fmt.Sprintf("%s[%d]", key, i), fmt.Errorf("%q is no name", clip(s)))
		}
	}
	return list
}

func (r *reader) tick(key, value string) int64 {
	tick, err := strconv.ParseInt(value, 10, 64)
	if err != nil || tick < 0 || tick > MaxTicks {
		r.fault(key, fmt.Errorf("%q is no whole number from 0 to %d", clip(value), MaxTicks))
	}
	return tick
}

func (r *reader) number(key, value string) float64 {
	x, err := strconv.ParseFloat(value, 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		r.fault(key, fmt.Errorf("%q is no number", clip(value)))
		return 0
	}
	return x
}

func (r *reader) acts(l *Link, value string) {
	list := strings.Split(value, ";")
	for i, text := range list {
		at := fmt.Sprintf("acts[%d]", i)
		part := strings.Split(text, ",")
		if len(part) != 4 {
			r.fault(at, fmt.Errorf("%q is not tick, unit, knob and value", clip(text)))
			continue
		}
		a := Act{Tick: r.tick(at+".tick", part[0]), Knob: part[2], Value: r.number(at+".value", part[3])}
		if part[1] != "0" && part[1] != "1" {
			r.fault(at+".unit", fmt.Errorf("%q is neither 0 nor 1", clip(part[1])))
		}
		if part[1] == "1" {
			a.Unit = 1
		}
		if _, ok := sim.FindKnob(a.Knob); !ok {
			r.fault(at+".knob", fmt.Errorf("no knob is named %q", clip(a.Knob)))
		}
		l.Acts = append(l.Acts, a)
	}
}

// together checks what concerns more than one field.
func (r *reader) together(l *Link) {
	for i, a := range l.Acts {
		at := fmt.Sprintf("acts[%d]", i)
		if a.Tick > l.Tick {
			r.fault(at+".tick", fmt.Errorf("%d is after the link's %d", a.Tick, l.Tick))
		}
		if i > 0 && a.Tick < l.Acts[i-1].Tick {
			r.fault(at+".tick", fmt.Errorf("%d is before the act ahead of it", a.Tick))
		}
		if a.Unit >= len(l.Units) {
			r.fault(at+".unit", fmt.Errorf("there is no unit %d", a.Unit))
		}
	}
}

// clip keeps a message short.
func clip(s string) string {
	const most = 40
	if len(s) > most {
		return s[:most] + "…"
	}
	return s
}

// Short returns a plan whose link stays short: the plan itself where what it holds
// fits, else the same units from their start, set as they are now.
func (b *Bench) Short(p Plan, most int) Plan {
	l := Link{Plan: p}
	if p.Tick <= MaxTicks && len(l.Encode()) <= most {
		return p
	}
	return b.Anew(b.plan.Units)
}
