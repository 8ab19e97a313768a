// Package scenarios holds the service calls that come with the program.
package scenarios

import "embed"

// FS holds one JSON file for each call.
//
//go:embed *.json
var FS embed.FS

// What the page opens with: a call of FS, and a unit of Bench.
const (
	Default = "hard-water-at-the-mill-house.json"
	Plain   = "bench/standard.json"
)

// Told holds what the customer of each call tells in other languages, in a
// directory for each, by the name of the call's file.
//
//go:embed es/*.json
var Told embed.FS

// Bench holds the units on which a valve's cycle is practised, from plain to hard.
//
//go:embed bench/*.json
var Bench embed.FS

// Sizing holds job sheets for sizing a unit, one JSON file for each.
//
//go:embed sizing/*.json
var Sizing embed.FS
