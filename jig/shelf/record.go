package shelf

import "slices"

// FileName is the file that makes a folder a fixture.
const FileName = "fixture.toml"

// A Record is what a fixture.toml states. Lengths are mm.
type Record struct {
	ID      string // name of its folder
	Title   string
	Version string // of the program that made it
	Made    string // date of making, 2026-11-25
	Retired string // why it is no longer in use; "" while it is
	Inputs  Inputs
	Setting Setting
	Milled  Milled
	Cutters []Source // the cutters' files that it was made from
	Shop    []Stated // what shop.toml said, of all that can change the fixture
	Files   []File   // in the order of their endings
	Stages  []Stage
	History []Reading // what was measured with the fixture, oldest first
}

// Inputs are what was asked for: enough to ask again. 0 and "" are not given.
type Inputs struct {
	Kind         string
	Cutter, With string  // handles
	Stock        float64 // thickness of the board
	Unit         string  // "mm" or "in": in which the stock was written
	Side         float64 // thickness of the upright board, where it differs
	Overlay      float64
	Land, Skim   float64
	At           []float64 // r, h, x, z of a landing; nil without one
	Pass         int       // of the joint's passes
	Variant      string
	From         string
	Width        float64
	Mill         float64
	Sheet        string
	Zero, Hold   string   // where they differ from the shop's
	Posts        []string // names of the writers
	Finish       string   // "measured" where a second program finishes, after measuring
	// Applied is the correction that the fixture was made with.
	Applied Correction
}

// A Correction is what a fixture's setting differs by from the computed one,
// because a test cut said so.
type Correction struct {
	Height float64 // mm, the cutter higher
	Fence  float64 // mm, the axis farther behind the fence: less cutter
}

// None tells whether there is nothing to correct.
func (c Correction) None() bool { return c == Correction{} }

// A Setting is where cutter and fence are to stand.
type Setting struct {
	Joint  string
	Pass   string
	Height float64 // of the cutter's h = 0 above the table
	Fence  float64 // of the axis behind the fence's face

	// The cutter's heights, or radii, are known only up to a shift: what stands there
	// holds for the numbers of its file alone and is nothing to measure.
	HeightUnknown, FenceUnknown bool
}

// Milled says how the plates are cut and what the proof found.
type Milled struct {
	Mill      string // name
	Diameter  float64
	Sheet     string // name
	Thickness float64
	Zero      string  // "table" or "top"
	Seconds   float64 // of milling and engraving
	Gouge     float64 // largest
	Leftover  float64 // largest
}

// A Source is a cutter's file.
type Source struct {
	Handle string
	Hash   string // SHA-256, 64 hexadecimal digits
}

// A Stated is one part of what shop.toml says: the router table, one end mill.
type Stated struct {
	Part string // "table", "mill 2 mm"
	Text string // its values, "key value, key value"
}

// A File is one output file of a fixture.
type File struct {
	Ext  string // the file is ID.Ext
	Size int64  // bytes
	Hash string // SHA-256, 64 hexadecimal digits
}

// A Stage is something done to a fixture after it was milled, with files of its own.
type Stage struct {
	Name    string // [a-z0-9-]{1,40}
	Version string
	Made    string
	Values  []Amount // what it was reckoned from
	Files   []File
}

// An Amount is a named number of a stage, mm where it is a length, or a text.
type Amount struct {
	Key   string // [a-z0-9_]{1,40}
	Value float64
	Text  string // not empty: this and not Value
}

// A Reading is what was measured with the fixture in use.
type Reading struct {
	Date  string
	Flip  float64 // step of the flip test, 0 or more; no matter where Proud is ""
	Proud string  // which piece stood proud: turned, second, first or none; "" where no flip test was made
	Tip   float64 // length that the tip lost, or negative the width of the land left on it
	Tips  bool    // whether the tip was read
	At    Correction
	// Cutter is the hash of the cutter's file then: what was measured with another
	// profile says nothing of this one.
	Cutter string
}

// File is the entry of the output file with the ending, of the fixture itself or of
// one of its stages.
func (r *Record) File(ext string) (File, bool) {
	for _, f := range r.all() {
		if f.Ext == ext {
			return f, true
		}
	}
	return File{}, false
}

// all are the files of the fixture and of its stages, to be read only.
func (r *Record) all() []File {
	if len(r.Stages) == 0 {
		return r.Files
	}
	out := slices.Clone(r.Files)
	for _, s := range r.Stages {
		out = append(out, s.Files...)
	}
	return out
}

// Last is the newest reading, if there is one.
func (r *Record) Last() (Reading, bool) {
	if len(r.History) == 0 {
		return Reading{}, false
	}
	return r.History[len(r.History)-1], true
}
