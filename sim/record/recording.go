// Package record is the file format of a recorded session: the scenario, the
// seed and every act of the trainee, which together replay to the same state.
package record

//go:generate go tool msgp -file recording.go -o recording_gen.go -io=false -tests=false

//msgp:tuple Recording Act

// Version is the version of the format that Encode writes and Decode reads.
const Version = 2

// Bounds of a recording.
const (
	MaxBytes = 4 << 20 // of the whole file
	MaxActs  = 2_000
	MaxTicks = 3 * 86400 * 4 // three days, the longest call
	MaxName  = 128           // bytes in any name
	MaxText  = 400           // bytes that a trainee writes in one act
)

// Recording is one recorded session. On file it is an array of its fields in
// this order, so that none can be missing, doubled or unknown.
type Recording struct {
	Version  int    // of the format; Encode sets it
	Engine   string // name of the engine that made the recording; not empty
	Name     string // name of the scenario; not empty
	Scenario []byte // the scenario file itself, JSON; not empty
	Seed     uint64 // of all the session's random streams
	Ticks    int64  // number of ticks run when the recording was taken, 0..MaxTicks
	Hash     uint64 // hash of the whole state at that tick
	Acts     []Act  // in the order done; ticks never fall
}

// Act is one act of the trainee. The engine knows what kind, part, id, text
// and value mean; here they only have to be whole.
type Act struct {
	Tick  int64   // ticks run before the act, 0..Ticks
	Kind  string  // not empty
	Part  string  // may be empty
	ID    string  // may be empty
	Text  string  // the trainee's own words; may be empty
	Value float64 // finite
}
