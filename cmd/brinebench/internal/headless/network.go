package headless

import (
	"encoding/json"
	"errors"
	"flag"
	"io"
)

// networkAnswer is what "network" prints.
type networkAnswer struct {
	Status string               `json:"status"`
	Nodes  map[string]headShown `json:"nodes"`
	Links  map[string]flowShown `json:"links"`
}

type headShown struct {
	HeadM float64 `json:"head_m"`
}

type flowShown struct {
	FlowLS float64 `json:"flow_L_s"`
}

// Network runs "network CASE.json": it finds heads and flows of a network of
// pipes, valves and openings in steady flow, see pipework. Its status is "solved";
// "unmet" where demands cannot be met and the figures show by how far, as when
// more is taken behind a regulator than it passes; or "stalled" where no solution
// was found.
func Network(args []string, out io.Writer) error {
	fs := flag.NewFlagSet("network", flag.ContinueOnError)
	fs.SetOutput(out)
	file, err := parse(fs, args)
	if err != nil {
		return err
	}
	if file == "" {
		return errors.New("no case given; see network -h")
	}
	data, err := readFile(file, maxCase)
	if err != nil {
		return err
	}
	c, err := decodePipework(file, data)
	if err != nil {
		return err
	}
	answer, err := c.solve()
	if err != nil {
		return errors.New(file + ": " + err.Error())
	}
	enc := json.NewEncoder(out)
	enc.SetIndent("", " ")
	return enc.Encode(answer)
}
