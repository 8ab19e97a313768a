package say

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Number writes x with that many decimals, or with as many as it needs when that
// is -1, in the way of the language: English and American Spanish have a point and commas
// by thousands, Spanish a decimal comma and a space that does not break from five digits on
// (Ortografía de la lengua española, RAE and ASALE, 2010, and CLDR's rule that four
// digits stand together in es; from memory). It never writes a negative nought.
func Number(x float64, decimals int) string { return spoken.Number(x, decimals) }

// Number is Number in the voice's language.
func (v *Voice) Number(x float64, decimals int) string {
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return v.lang.localised(s)
}

// FlowSize writes the size that is printed on a flow control, in gpm: to a tenth, or to
// a hundredth where it has one.
func FlowSize(flowGPM float64) string { return strings.TrimSuffix(Number(flowGPM, 2), "0") }

// TimeLeft writes a time that runs down, given in s, as minutes and seconds or hours and
// minutes; begun ones count.
func TimeLeft(s float64) string {
	n := int(math.Ceil(math.Max(s, 0)))
	if n >= 3600 {
		return fmt.Sprintf("%d h %02d min", n/3600, n/60%60)
	}
	return fmt.Sprintf("%d:%02d min", n/60, n%60)
}

// Capital raises the first letter of a text, behind a mark that opens it.
func Capital(text string) string {
	marks := len(text) - len(strings.TrimLeft(text, "¿¡“«"))
	first, n := utf8.DecodeRuneInString(text[marks:])
	return text[:marks] + string(unicode.ToUpper(first)) + text[marks+n:]
}

// Ended puts the point behind what another sentence may follow.
func Ended(text string) string {
	if text == "" || strings.ContainsAny(text[len(text)-1:], ".!?:") {
		return text
	}
	return text + "."
}

// localised turns a number as Go writes it into one of the language.
func (l Lang) localised(s string) string {
	minus := ""
	if rest, negative := strings.CutPrefix(s, "-"); negative {
		minus, s = "−", rest
	}
	whole, part, broken := strings.Cut(s, ".")
	point, gap, least := ".", ",", 4
	if l == Spanish {
		point, gap, least = ",", "\u00a0", 5
	}
	if len(whole) >= least {
		for i := len(whole) - 3; i > 0; i -= 3 {
			whole = whole[:i] + gap + whole[i:]
		}
	}
	if broken {
		whole += point + part
	}
	return minus + whole
}

// isNumber tells whether the engine wrote a plain number.
func isNumber(s string) bool {
	_, err := strconv.ParseFloat(s, 64)
	return err == nil && strings.Trim(s, "+-.0123456789") == ""
}
