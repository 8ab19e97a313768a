package sim

// Report is the debrief of a finished call.
type Report struct {
	Score      float64 // 0..100
	Items      []ScoreItem
	True       []FaultInfo // what was really wrong; empty for a healthy unit
	Named      FaultInfo   // what the trainee named; ID "" when nothing was named
	Confidence float64
	Minutes    float64 // of call time
	Candidates []FaultInfo
	Steps      []StepReport
	Unsafe     []string
	Unneeded   []string // repairs that changed nothing that was wrong
	Better     []string // what an economical run would have looked like
	Hash       uint64   // state hash at the end
}

// ScoreItem is one part of the score.
type ScoreItem struct {
	Name   string
	Got    float64
	Max    float64
	Reason string
}

// StepReport is one act of the call as the debrief sees it.
type StepReport struct {
	Minute   float64
	Text     string
	Reading  *Reading
	Belief   []float64 // over Candidates, after this step; sums to 1
	GainBits float64   // information that the test was worth when chosen, bits
	BestBits float64   // the same for the best test per minute at that moment
	BestTest string
	Ratio    float64 // value per minute over the best available, 0..1; -1 where the step is no test
	Unsafe   bool
}
