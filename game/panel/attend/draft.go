//go:build js

package attend

import (
	"encoding/json"
	"fmt"

	"brinebench/game/class"
	"brinebench/game/dom"
)

// draftEveryMS is between two answers that are sent as far as they have come.
const draftEveryMS = 4000

// draft is an answer that is not handed in yet, as the server is to have it.
type draft struct {
	text, sent string
	sentMS     int64
}

func (x *draft) waits() bool { return x.text != x.sent }

// drafts reports whether it is time to send what has been answered since.
func (d *Drill) drafts() bool {
	return d.draft.waits() && !d.Box.Offline() && (d.up() || NowMS() >= d.draft.sentMS+draftEveryMS)
}

// TellDraft has the server told an answer as far as it has come, so that it counts whatever
// becomes of this page.
func (d *Drill) TellDraft(answer []byte) {
	if !d.Over() {
		d.draft.text = string(answer)
	}
}

func (d *Drill) sendDraft(a *class.Attempt) error {
	text := d.draft.text
	err := Ask("POST", "me/drills/"+d.name()+"/draft", map[string]any{"epoch": d.Taken.Attempt.Epoch, "answer": json.RawMessage(text)}, a)
	d.draft.sentMS = NowMS()
	if err == nil {
		d.draft.sent = text
	}
	return err
}

// Draft is what the device keeps of an answer that is not handed in yet, "" for nothing.
func (d *Drill) Draft() string { return dom.Recall(d.draftKey()) }

// KeepDraft keeps it; "" forgets it.
func (d *Drill) KeepDraft(text string) {
	if text == "" {
		dom.Forget(d.draftKey())
		return
	}
	dom.Keep(d.draftKey(), text)
}

func (d *Drill) draftKey() string {
	return fmt.Sprintf("draft-%d-%s", d.Mine.Member.ID, d.name())
}
