// Package scenarios holds the service calls that come with the program.
package scenarios

import "embed"

// FS holds one JSON file for each call, and in a directory named by a language what
// the customer of a call tells in it.
//
//go:embed *.json
var FS embed.FS
