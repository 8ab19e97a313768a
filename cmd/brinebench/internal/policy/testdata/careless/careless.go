// Package careless does all that the engine must not; the policy test has to
// find each of them.
package careless

import "math"

// Sum breaks every rule.
func Sum(m map[string]float64, c chan float64) float64 {
	total := math.Sqrt(2) + math.Exp(1)
	total += math.Cbrt(total)
	for _, v := range m {
		total += v
	}
	go func() { c <- total }()
	select {
	case v := <-c:
		total += v
	default:
	}
	for v := range c {
		total += v
	}
	return total
}
