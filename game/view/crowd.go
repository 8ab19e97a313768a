package view

import "brinebench/game/viewmodel"

// crowd makes flow marks denser than they come, so that what a frame costs can be
// measured with many of them.
type crowd struct {
	times float64 // the usual number
	marks int     // drawn in this frame
}

// crowdOf is the crowd of at least that many marks.
func crowdOf(s *viewmodel.Scene, least int) crowd {
	usual := 0.0
	for i := range s.Streams {
		usual += s.Streams[i].Len / s.Streams[i].Gap
	}
	if usual == 0 {
		return crowd{times: 1}
	}
	return crowd{times: max(1, float64(least+len(s.Streams))/usual)}
}

// Marks returns how many flow marks the last frame had.
func (g *Stage) Marks() int { return g.crowd.marks }
