// Command brinebench is the training bench and its headless tools in one.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"brinebench/cmd/brinebench/internal/headless"
	"brinebench/cmd/brinebench/internal/web"
)

// command is one subcommand. run writes its result to out; an error ends the
// program with exit status 2.
type command struct {
	name, summary string
	run           func(args []string, out io.Writer) error
}

var commands = append(serving, []command{
	{"pack", "pack a built page, so that serving it costs nothing", web.PackCommand(drawStills)},
	{"network", "solve a network of pipes and valves and print heads and flows", headless.Network},
	{"plant", "run the unit of a scenario for some days and print what happened", headless.Plant},
	{"signatures", "tell what every fault shows on the unit of a scenario, what is confused and how well it is named", headless.Signatures},
	{"size", "work out which softener fits a house, mark an answer, tell what comes of it", headless.Size},
	{"column", "run a bed alone through the stages of a case and print what leaves it", headless.Column},
	{"replay", "play a recorded call again and print its hash and score", headless.Replay},
}...)

func main() {
	os.Exit(dispatch(os.Args[1:], os.Stdout, os.Stderr))
}

// dispatch runs the subcommand that args name and returns the exit status.
func dispatch(args []string, out, complaints io.Writer) int {
	if len(args) == 0 {
		usage(complaints)
		return 2
	}
	switch args[0] {
	case "help", "-h", "-help", "--help":
		usage(out)
		return 0
	}
	for _, c := range commands {
		if c.name != args[0] {
			continue
		}
		err := c.run(args[1:], out)
		if err == nil || errors.Is(err, flag.ErrHelp) {
			return 0
		}
		fmt.Fprintf(complaints, "brinebench %s: %v\n", c.name, err)
		return 2
	}
	fmt.Fprintf(complaints, "brinebench: unknown command %q\n\n", args[0])
	usage(complaints)
	return 2
}

func usage(out io.Writer) {
	fmt.Fprintln(out, "Usage: brinebench COMMAND [ARGUMENTS]")
	fmt.Fprintln(out)
	for _, c := range commands {
		fmt.Fprintf(out, "  %-10s  %s\n", c.name, c.summary)
	}
	fmt.Fprintln(out, "\nbrinebench COMMAND -h tells what a command takes.")
}
