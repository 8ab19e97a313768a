// Package scenarios holds the service calls that come with the program.
package scenarios

import "embed"

// FS holds one JSON file for each call.
//
//go:embed *.json
var FS embed.FS
