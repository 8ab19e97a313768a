package class

import (
	"encoding/json"

	"brinebench/sim"
)

const slipFigure = "figure"

// SlipKinds are those of the mistakes in a drill that is no call: a figure of a sizing, and
// each of SequenceKinds.
func SlipKinds() []string {
	kinds := []string{slipFigure}
	for _, k := range SequenceKinds {
		kinds = append(kinds, string(k))
	}
	return kinds
}

// slips are the mistakes in the report of a drill that is no call, each once. What is
// not answered is none.
func slips(kind Kind, report []byte) (list []Slip) {
	switch kind {
	case Sequence:
		var marks SequenceMarks
		if json.Unmarshal(report, &marks) != nil {
			return nil
		}
		for _, m := range marks.Exercises {
			if m.Answered && m.Score < WholeMark && m.Stop != "" { // older reports have no names
				list = append(list, Slip{What: string(m.Kind) + ": " + m.Stop})
			}
		}
	case Sizing:
		var marks sim.SizingMarks
		if json.Unmarshal(report, &marks) != nil {
			return nil
		}
		for _, f := range marks.Figures {
			if f.Verdict == "wrong" {
				list = append(list, Slip{What: slipFigure + ": " + f.Name})
			}
		}
	}
	return list
}
