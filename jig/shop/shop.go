package shop

import "text/scanner"

// A Shop is what shop.toml states. All lengths are mm, feeds mm/min,
// accelerations mm/s².
type Shop struct {
	Dir      string // folder of shop.toml, relative if the search for it began so
	Units    string // "mm" or "in": of its files, flags, output and programs
	Table    Table
	Machine  Machine
	Mills    []Mill    // one at least
	Engraver *Engraver // nil without one
	Sheets   []Sheet   // one at least; the first is the default
	Defaults Defaults
}

// Table is the router table. Lengths are mm.
type Table struct {
	InsertOpening   float64 // diameter of the hole that the cutter passes
	InsertThickness float64 // 0 = not stated
	Pin             float64 // diameter of the setup pin, 0 without one
	FenceWidth      float64 // of the fence's opening at the cutter, along the fence
	FenceHeight     float64 // of the same opening, above the table
	LiftLow         float64 // reach of the cutter's h = 0 above the table; LiftLow < LiftHigh
	LiftHigh        float64
	LiftPitch       float64 // mm per turn, 0 = not stated
	LeverPivot      float64 // pivoting fence: from the pivot to the cutter; 0 if it slides
	LeverFree       float64 // from the pivot to the free end, more than LeverPivot
}

// Machine is the small CNC router.
type Machine struct {
	Travel      [3]float64 // X, Y, Z in mm
	FeedXY      float64    // greatest, mm/min
	FeedZ       float64    // greatest, mm/min
	Accel       float64    // mm/s²
	SpindleLow  float64    // rpm
	SpindleHigh float64    // rpm
	Dial        bool       // speed set by hand
	Backlash    [2]float64 // X, Y in mm
}

// Mill is one end mill. Lengths are mm.
type Mill struct {
	Name        string
	Diameter    float64 // nominal
	Flutes      int
	FluteLength float64
	StickOut    float64            // from the collet, at least FluteLength
	Measured    map[string]float64 // material → true cutting diameter; may be nil
}

// Cuts is the diameter in mm that the mill truly cuts in the material: measured,
// else nominal.
func (m Mill) Cuts(material string) float64 {
	if d, ok := m.Measured[material]; ok {
		return d
	}
	return m.Diameter
}

// Engraver is the tool for letters and lines.
type Engraver struct {
	Name  string
	Tip   float64 // width in mm of the line it cuts
	Depth float64 // mm, at most EngraveMax
	RPM   float64
	Feed  float64 // mm/min
}

// Sheet is stock for plates. Lengths are mm.
type Sheet struct {
	Name, Material string
	Width, Height  float64 // X and Y
	Thickness      float64 // nominal
	Measured       float64 // 0 = not measured
	ChipLoad       float64 // mm per tooth
	StepDown       float64 // mm per pass
}

// Thick is the sheet's thickness in mm, measured if it was.
func (s Sheet) Thick() float64 {
	if s.Measured > 0 {
		return s.Measured
	}
	return s.Thickness
}

// Defaults are the choices a flag may override. Lengths are mm.
type Defaults struct {
	Through    float64            // cut into the spoilboard, at most ThroughMax
	SafeZ      float64            // clearance of rapids above the sheet, at least 1.1
	Ramp       float64            // degrees, at most 5
	FeedFactor float64            // share of the table feed, 0.5 for a small gantry
	Zero       string             // "table" or "top"
	Hold       string             // "tabs", "screws" or "skin"
	Tabs       int                // per plate, at least 2
	TabWidth   float64            //
	TabHeight  float64            //
	Skin       float64            // thickness of an onion skin
	Allowance  float64            // left on the walls by roughing
	KerfExtra  float64            // widening of the rough kerf
	Climb      bool               // direction of the finishing pass
	Spring     bool               // a second finishing pass
	Overtravel float64            // of seats, against backlash
	Web        float64            // left beside a lock: what makes a range usable
	Clearance  float64            // of cut-line edges that are no seats
	Ease       float64            // leg of the easing of convex corners
	Posts      []string           // no entry: all
	PostsAt    []scanner.Position // where each of Posts stands
}

// Limits in mm that no shop may exceed.
const (
	ThroughMax = 0.5 // into the spoilboard
	EngraveMax = 0.5 // depth of letters
)

// Standard is what holds where shop.toml says nothing. Derived here, but for the
// share of the table feed: common practice, no source.
func Standard() Defaults {
	return Defaults{
		Through: 0.3, SafeZ: 5, Ramp: 5, FeedFactor: 0.5,
		Zero: "table", Hold: "tabs", Tabs: 2, TabWidth: 4, TabHeight: 1.2, Skin: 0.4,
		Allowance: 0.2, KerfExtra: 0.4, Climb: true, Overtravel: 2,
		Web: 2, Clearance: 0.4, Ease: 0.5,
	}
}
