package sizing

import "strings"

// inSI are formulas and sources with amounts in US units, each with the same in SI ones.
// Where a limit was published it stays beside, in the units that it was published in.
var inSI = strings.NewReplacer(
	loadRule, "L = V × Hc, two equivalents for each mol",
	lossRule, "Δp(Qs) ≤ 103 kPa",
	rinseRule, "rinse 0.027 to 0.067 L/min for each L, 8 to 14 % of salt",
	byHeads, "227 to 303 L a person, 284 usual: "+practice+"; 222 measured indoors (DeOreo et al., 2016)",
	byIron, "0.51 to 0.86 mmol/L for a mg/L, 0.68 usual: "+practice,
	byPeak, network+"; up to 172 kPa at a moment's peak: "+practice,
	byRZ, "Richardson & Zaki (1954) by the bench; near 12 m/h at 16 °C: common practice, no source",
	jet, "the bench's own jet pump; 0.027 to 0.067 L/min of rinse for each L: common practice, no source",
	solubil, "0.36 kg of salt in a litre of refill: common practice, and computed from the solubility of salt",
	salt6, "96 g/L gives 0.91 eq/L, as 6 lb/ft³ gives 20 kilograin: 12VAC5-590-900 D and 35 Ill. Adm. Code 604.805(c), published; other doses, and 0.6 % less for each °C below 20: common practice, no source, and the bench's own bed",
)

// inUnits tells a formula or a source in a system of units.
func inUnits(words string, sys System) string {
	if sys == SI {
		return inSI.Replace(words)
	}
	return words
}
