package headless

import (
	"errors"
	"flag"
	"fmt"
	"io"

	"brinebench/sim"
)

// maxRecording is the greatest recording that is read, bytes.
const maxRecording = 4 << 20

// Replay runs "replay FILE [--score]": it plays a recording again and prints the
// hash of the state it ends in, and its score.
func Replay(args []string, out io.Writer) error {
	fs := flag.NewFlagSet("replay", flag.ContinueOnError)
	fs.SetOutput(out)
	hashOnly := fs.Bool("hash-only", false, "do not judge the call, which takes longer than playing it")
	file, err := parse(fs, args)
	if err != nil {
		return err
	}
	if file == "" {
		return errors.New("no recording given; see replay -h")
	}
	data, err := readFile(file, maxRecording)
	if err != nil {
		return err
	}
	s, err := sim.Replay(data)
	if err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	fmt.Fprintf(out, "hash %016x\n", s.Hash())
	if *hashOnly {
		return nil
	}
	r, err := sim.Judge(data, nil)
	if err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	for _, it := range r.Items {
		fmt.Fprintf(out, "%s %v of %v\n", it.Name, it.Got, it.Max)
	}
	_, err = fmt.Fprintf(out, "score %v\n", r.Score)
	return err
}
