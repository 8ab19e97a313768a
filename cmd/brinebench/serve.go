//go:build !headless

package main

import "brinebench/cmd/brinebench/internal/server"

var serving = []command{
	{"serve", "serve the built page to a browser, and a classroom", server.Command},
}
