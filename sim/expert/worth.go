package expert

import "math"

// Worths are the words for what a test promises to tell, from least to most.
var Worths = []string{"next to nothing", "little", "some", "much"}

// WorthBits is the least that each word but the first stands for, bits. One bit settles
// an even question of yes or no; the steps below it are our choice.
var WorthBits = []float64{0.05, 0.3, 1}

// Worth says in a word what a test is worth, by the information that it promises, bits,
// rounded as people are told it: to a hundredth.
func Worth(bits float64) string {
	bits = math.Floor(float64(100*bits)+0.5) / 100
	word := Worths[0]
	for i, least := range WorthBits {
		if bits >= least {
			word = Worths[i+1]
		}
	}
	return word
}
