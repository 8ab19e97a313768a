package sizing

import (
	"strings"

	"brinebench/sim/unit"
)

// reckoningTable tells the figures of the trade that the rules take, so that who works on
// paper comes to the same.
func reckoningTable(sys System) Table {
	t := Table{
		ID: "reckoning", Title: "What this desk reckons with", Head: []string{"figure", "value"},
		Source: practice + "; times of the programs; sodium computed: two equivalents for each mol of hardness",
	}
	add := func(figure, value string) { t.Rows = append(t.Rows, []string{figure, value}) }
	n := terms{j: &Job{}, sys: sys}
	add("Water for a person and day", Volume.Text(waterPerPerson, sys))
	add("Iron: a, for each mg/L", ironText(sys))
	add("Capacity lost for each °C below 20", Percent.Text(100*coldPerC, sys))
	add("Doses", doseTexts(doses[plainFrom:], sys))
	add("Doses where salt is to be saved", doseTexts(doses, sys))
	add("Hardness and sodium together for the two least of these, at most", leanText(sys))
	add("Doses where there is iron", doseTexts(doses[ironFrom:], sys))
	add("A larger tank to save salt, where for each size it saves at least", Percent.Text(100*(1-worthIt), sys))
	add("Floor free between and beside the tanks, in all", Length.Text(betweenIn*unit.Inch, sys))
	add("Height of the valve above its tank", Length.Text(valveHighIn*unit.Inch, sys))
	add("Days between regenerations, at least", number(leastDays))
	add("Days between regenerations, at most", number(mostDays)+", with iron "+number(mostDaysIron))
	add("Salt in the refill water", n.brine())
	for _, id := range programs {
		add("Backwash, fast rinse, brine stop: "+strings.ReplaceAll(id, "-", " "), stopTexts(id, sys))
	}
	add("Sodium added: b", n.addedText())
	return t
}

func ironText(sys System) string {
	gpg := func(n float64) string { return Hardness.Number(float64(n*unit.GPG), sys) }
	return Hardness.Text(ironGPG*unit.GPG, sys) + " (" + gpg(leastIronGPG) + " to " + gpg(mostIronGPG) + " usual)"
}

// leanText is the water in which the least doses are taken.
func leanText(sys System) string {
	const mgL = 1e-3
	return Hardness.Text(mostForLean, sys) + " (1 mg/L of sodium counts as " + spaced(rounded(Hardness.units(sys)[0].In(float64(mgL*sodiumAsHardness)), 3), Hardness.units(sys)[0].Name) + ")"
}

func doseTexts(list []float64, sys System) string {
	var texts []string
	for _, lb := range list {
		texts = append(texts, Dose.Number(float64(lb*(unit.Pound/unit.CubicFoot)), sys))
	}
	return strings.Join(texts, ", ") + " " + Dose.symbol(sys)
}

// stopTexts are the times of a program that a regeneration's water follows from.
func stopTexts(program string, sys System) string {
	s := Sheet{Program: program}
	var texts []string
	for _, stop := range []string{"backwash", "fast-rinse", "brine"} {
		texts = append(texts, Minutes.Number(s.stopS(stop), sys))
	}
	return strings.Join(texts, ", ") + " " + Minutes.symbol(sys)
}
