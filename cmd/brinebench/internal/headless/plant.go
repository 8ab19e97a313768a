// Package headless holds the commands that run the engine without a picture.
package headless

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"brinebench/sim/fault"
	"brinebench/sim/plant"
	"brinebench/sim/scenario"
)

// Plant runs "plant SCENARIO.json [--fault ID=SEVERITY]… [--days N]": the unit of
// a scenario lives in its house for some days, and one JSON object tells what
// every regeneration and every stretch of service was like.
func Plant(args []string, out io.Writer) error {
	fs := flag.NewFlagSet("plant", flag.ContinueOnError)
	fs.SetOutput(out)
	list := fs.Bool("list-faults", false, "print the catalogue of faults, a line each: id, name, where")
	days := fs.Float64("days", 12, "days to run")
	var faults faultFlags
	fs.Var(&faults, "fault", "`ID=SEVERITY` in place of the scenario's own faults, severity 0..1; may be given again; none: a healthy unit")
	file, err := parse(fs, args)
	if err != nil {
		return err
	}
	if *list {
		return listFaults(out)
	}
	if file == "" {
		return errors.New("no scenario file given; see plant -h")
	}
	if !(*days > 0 && *days <= 3650) {
		return fmt.Errorf("--days: %v is outside 0 to 3650", *days)
	}
	data, err := readFile(file, scenario.MaxBytes)
	if err != nil {
		return err
	}
	f, err := scenario.Decode(file, data)
	if err != nil {
		return err
	}
	if faults.given {
		f.Faults = faults.list
	}
	m, err := plant.New(f.Config())
	if err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	enc := json.NewEncoder(out)
	enc.SetIndent("", " ")
	return enc.Encode(live(f, m, *days*86400))
}

// parse reads flags that may stand before or after one file name.
func parse(fs *flag.FlagSet, args []string) (file string, err error) {
	for {
		if err := fs.Parse(args); err != nil {
			return "", err
		}
		if args = fs.Args(); len(args) == 0 {
			return file, nil
		}
		if file != "" {
			return "", fmt.Errorf("%q: one file is enough", args[0])
		}
		file, args = args[0], args[1:]
	}
}

// readFile reads a whole file unless it is longer than a limit.
func readFile(name string, limit int64) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, limit+1))
	if err != nil {
		return nil, err
	}
	if int64(len(data)) > limit {
		return nil, fmt.Errorf("%s: longer than %d bytes", name, limit)
	}
	return data, nil
}

func listFaults(out io.Writer) error {
	for _, f := range fault.Catalogue() {
		if _, err := fmt.Fprintf(out, "%s\t%s\t%s\n", f.ID, f.Name, f.Where); err != nil {
			return err
		}
	}
	return nil
}

// faultFlags collects --fault.
type faultFlags struct {
	given bool
	list  []scenario.Fault
}

func (f *faultFlags) String() string { return "" }

func (f *faultFlags) Set(text string) error {
	f.given = true
	if text == "none" {
		return nil
	}
	id, severity, ok := strings.Cut(text, "=")
	if !ok {
		return fmt.Errorf("%q is not ID=SEVERITY", text)
	}
	if _, known := fault.Find(id); !known {
		return fmt.Errorf("no fault is named %q", id)
	}
	x, err := strconv.ParseFloat(severity, 64)
	if err != nil || !(x >= 0 && x <= 1) {
		return fmt.Errorf("severity %q is outside 0 to 1", severity)
	}
	f.list = append(f.list, scenario.Fault{ID: id, Severity: x})
	return nil
}
