//go:build !linux

package server

// impatient leaves it to the probes that keep a connection alive.
func impatient(uintptr) error { return nil }
