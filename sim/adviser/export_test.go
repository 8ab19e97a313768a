//go:build !js && !arm64

package adviser

// SpendRounds leaves none in which readings bring more to mind.
func (a *Adviser) SpendRounds() { a.rounds = 99 }
