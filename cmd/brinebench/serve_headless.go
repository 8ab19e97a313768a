//go:build headless

package main

// Built with the tag headless, for processors and systems that the database does not
// know, the program has all its tools and serves nobody.
var serving []command
