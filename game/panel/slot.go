//go:build js

package panel

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"brinebench/game"
	"brinebench/game/dom"
)

// Calls are kept in the browser's localStorage, each in a slot of its own. That
// is written at once, so that the last act is kept when the page is left, which
// IndexedDB does not promise; and a call is only some kilobytes, judged or not.

const (
	callSlots  = "call-"  // and the call's id and seed
	asideSlots = "aside-" // the same, for a call that could not be brought back
)

func slotOf(id string, seed uint64) string { return id + "@" + strconv.FormatUint(seed, 10) }

// KeptCall returns the text of the call that the browser keeps, "" when it keeps none.
func KeptCall(id string, seed uint64) string { return dom.Recall(callSlots + slotOf(id, seed)) }

// SetAside puts a kept call that cannot be brought back out of the way, for the
// person to save as a file.
func SetAside(id string, seed uint64, why error) {
	slot := slotOf(id, seed)
	reason := strings.ReplaceAll(why.Error(), "\n", "; ")
	if dom.Keep(asideSlots+slot, reason+"\n"+dom.Recall(callSlots+slot)) {
		dom.Forget(callSlots + slot)
	}
}

// keptCall is a call that the browser keeps.
type keptCall struct {
	slot, id string
	seed     uint64
	game.Glance
}

// query is the address of the call on its page.
func (k *keptCall) query() string {
	if k.seed == 1 {
		return "?call=" + k.id
	}
	return "?call=" + k.id + "&seed=" + strconv.FormatUint(k.seed, 10)
}

// LastCall is the address of the call that was worked on last, "" where the browser
// keeps none that the program has.
func LastCall(has func(id string) bool) string {
	kept := slices.DeleteFunc(keptCalls(), func(k keptCall) bool { return !has(k.id) })
	if len(kept) == 0 {
		return ""
	}
	last := slices.MaxFunc(kept, func(a, b keptCall) int { return cmp.Compare(a.SavedMS, b.SavedMS) })
	return last.query()
}

// keptCalls lists the calls that the browser keeps.
func keptCalls() (calls []keptCall) {
	for _, key := range dom.KeptKeys() {
		slot, ours := strings.CutPrefix(key, callSlots)
		id, number, _ := strings.Cut(slot, "@")
		seed, err := strconv.ParseUint(number, 10, 64)
		if !ours || err != nil {
			continue
		}
		if g, err := game.ReadGlance(dom.Recall(key)); err == nil {
			calls = append(calls, keptCall{slot, id, seed, g})
		}
	}
	return calls
}

// keepCall puts a call into its slot. Where the browser has no room left, the
// calls judged longest ago make room.
func keepCall(slot, text string) bool {
	for !dom.Keep(callSlots+slot, text) {
		var oldest *keptCall
		calls := keptCalls()
		for i := range calls {
			if c := &calls[i]; c.Judged && c.slot != slot && (oldest == nil || c.SavedMS < oldest.SavedMS) {
				oldest = c
			}
		}
		if oldest == nil {
			return false
		}
		dom.Forget(callSlots + oldest.slot)
	}
	return true
}
