package signature_test

import (
	"testing"

	"brinebench/sim/signature"
)

// BenchmarkLibrary makes the library of the first call and tells what a unit of it takes.
func BenchmarkLibrary(b *testing.B) {
	f, m := installation(b, mill)
	units := 0
	for range b.N {
		units += len(signature.Make(f, m, nil).Units)
	}
	b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(units), "ms/unit")
}
