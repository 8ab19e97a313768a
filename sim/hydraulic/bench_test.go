package hydraulic

import "testing"

func BenchmarkSpeedSolveWarm(b *testing.B) {
	n, laws := unitNetwork(b), drawLaws()
	s := n.NewState()
	s.P[street] = 55 * PaPerPsi
	n.Solve(laws, nil, &s)
	steps := 0
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		laws[rawTap].B = CvB(0.1+0.001*float64(i%7), rho) // the supply pressure moves a little
		steps += n.Solve(laws, nil, &s).Iterations
	}
	b.ReportMetric(float64(steps)/float64(b.N), "steps/op")
}

func BenchmarkSpeedSolveCold(b *testing.B) {
	n, laws := unitNetwork(b), drawLaws()
	s := n.NewState()
	steps := 0
	b.ReportAllocs()
	for b.Loop() {
		clear(s.Q)
		clear(s.P)
		s.P[street] = 55 * PaPerPsi
		steps += n.Solve(laws, nil, &s).Iterations
	}
	b.ReportMetric(float64(steps)/float64(b.N), "steps/op")
}

func BenchmarkSpeedSolveAfterSeatsMove(b *testing.B) {
	n := unitNetwork(b)
	turns := [2][]Law{drawLaws(), openLaws(passSeat, upflowSeat, backwashSeat, rinseSeat, motiveSeat, brineSeat, rawTap, crossing)}
	s := n.NewState()
	s.P[street] = 55 * PaPerPsi
	steps := 0
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		steps += n.Solve(turns[i%2], nil, &s).Iterations
	}
	b.ReportMetric(float64(steps)/float64(b.N), "steps/op")
}
