package call

import (
	"slices"
	"strings"

	"brinebench/sim/fault"
)

// NoFault is the verdict that nothing is wrong with the unit.
const NoFault = "none"

// MaxCauses is how many causes one verdict may name.
const MaxCauses = 3

// VerdictIDs takes a verdict apart: the IDs of the faults that it names, joined
// by "+" in the act, or NoFault alone.
func VerdictIDs(id string) []string { return strings.Split(id, "+") }

// VerdictName is a verdict in the catalogue's words.
func VerdictName(id string) string {
	var names []string
	for _, one := range VerdictIDs(id) {
		names = append(names, FaultName(one))
	}
	return strings.Join(names, "; and: ")
}

// FaultName is the catalogue's name of one cause.
func FaultName(id string) string {
	if f, ok := fault.Find(id); ok {
		return f.Name
	}
	return "Nothing wrong with the unit"
}

func admitVerdict(id string) error {
	ids := VerdictIDs(id)
	if len(ids) > MaxCauses {
		return refuse("id", "A verdict names at most %d causes.", MaxCauses)
	}
	for i, one := range ids {
		if err := admitCause(one); err != nil {
			return err
		}
		if slices.Contains(ids[:i], one) {
			return refuse("id", "%s: named twice.", FaultName(one))
		}
		if one == NoFault && len(ids) > 1 {
			return refuse("id", "Either nothing is wrong, or something is.")
		}
	}
	return nil
}

// admitCause checks that one cause is in the catalogue.
func admitCause(id string) error {
	if _, ok := fault.Find(id); !ok && id != NoFault {
		return refuse("id", "No fault is named %q.", id)
	}
	return nil
}
