package sizing

// Rule is how the figure is worked out, in symbols and words of a system of units: what a
// worked step, a worksheet and the tables tell alike.
func (f Figure) Rule(sys System) string { return inUnits(rules[f].formula, sys) }

// RuleTable is the id of the table of rules.
const RuleTable = "rules"

// ruleTable tells how each figure is worked out, and with what symbols.
func ruleTable(sys System) Table {
	t := Table{ID: RuleTable, Title: "How each figure is worked out", Head: []string{"figure", "rule"}, Source: "what each rule rests on stands with its step of the worked solution"}
	for f := range NumFigures {
		t.Rows = append(t.Rows, []string{f.Name(), f.Rule(sys)})
	}
	return t
}
