package sizing

import (
	"bytes"
	"encoding/json"
)

// value is an amount in a file.
type value struct {
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
}

func valueOf(a Amount) value { return value{a.Value, a.Unit} }

type jobFile struct {
	Format   string         `json:"format"`
	Title    string         `json:"title"`
	Customer string         `json:"customer"`
	Seed     int            `json:"seed"`
	People   int            `json:"people"`
	Fixtures map[string]int `json:"fixtures"`
	Water    struct {
		Hardness    value   `json:"hardness"`
		Iron        value   `json:"iron"`
		Manganese   value   `json:"manganese"`
		TDS         value   `json:"tds"`
		Sodium      value   `json:"sodium"`
		Chlorine    value   `json:"chlorine"`
		PH          float64 `json:"pH"`
		Temperature value   `json:"temperature"`
	} `json:"water"`
	Supply struct {
		Kind       string `json:"kind"`
		Static     value  `json:"static"`
		Residual   value  `json:"residual"`
		ResidualAt value  `json:"residual_at"`
	} `json:"supply"`
	Drain struct {
		Rise     value `json:"rise"`
		Length   value `json:"length"`
		MostFlow value `json:"most_flow"`
	} `json:"drain"`
	Space struct {
		FloorWidth value `json:"floor_width"`
		Height     value `json:"height"`
	} `json:"space"`
	Wishes     []string `json:"wishes"`
	Controller string   `json:"controller"`
}

// JSON writes the job sheet as the file that DecodeJob reads back to the same job.
func (j *Job) JSON() []byte {
	f := jobFile{Format: jobFormat, Title: j.Title, Customer: j.Customer, Seed: j.Seed, People: j.People, Wishes: []string{}}
	f.Fixtures = map[string]int{}
	for kind, n := range j.Fixtures {
		if n > 0 {
			f.Fixtures[fixtureIDs[kind]] = n
		}
	}
	w := &f.Water
	w.Hardness, w.Iron, w.Manganese, w.TDS = valueOf(j.Hardness), valueOf(j.Iron), valueOf(j.Manganese), valueOf(j.TDS)
	w.Sodium, w.Chlorine, w.PH, w.Temperature = valueOf(j.Sodium), valueOf(j.Chlorine), j.PH, valueOf(j.Temperature)
	f.Supply.Kind = "mains"
	if j.Well {
		f.Supply.Kind = "well"
	}
	f.Supply.Static, f.Supply.Residual, f.Supply.ResidualAt = valueOf(j.Static), valueOf(j.Residual), valueOf(j.ResidualAt)
	f.Drain.Rise, f.Drain.Length, f.Drain.MostFlow = valueOf(j.DrainRise), valueOf(j.DrainLength), valueOf(j.DrainMost)
	f.Space.FloorWidth, f.Space.Height = valueOf(j.FloorWidth), valueOf(j.Height)
	if j.SaltSaving {
		f.Wishes = append(f.Wishes, wishSalt)
	}
	if j.LowSodium {
		f.Wishes = append(f.Wishes, wishSodium)
	}
	f.Controller = "clock"
	if j.Demand {
		f.Controller = "demand"
	}
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetIndent("", "  ")
	if err := enc.Encode(f); err != nil {
		panic("sizing: " + err.Error())
	}
	return out.Bytes()
}
