package shop

// A Shop is what shop.toml states. All lengths are mm, feeds mm/min,
// accelerations mm/s².
type Shop struct {
	Dir      string // folder of shop.toml
	Units    string // "mm" or "in": of its files, flags, output and programs
	Table    Table
	Machine  Machine
	Mills    []Mill
	Engraver *Engraver // nil without one
	Sheets   []Sheet   // the first is the default
	Defaults Defaults
}

// Table is the router table.
type Table struct {
	InsertOpening, InsertThickness float64 // diameter of the hole the cutter passes; 0 = not stated
	Pin                            float64 // setup pin's diameter, 0 without one
	FenceWidth, FenceHeight        float64 // of the fence's opening at the cutter
	LiftLow, LiftHigh              float64 // reach of the cutter's h = 0 above the table
	LiftPitch                      float64 // mm per turn, 0 = not stated
	LeverPivot, LeverFree          float64 // pivoting fence: distance from the pivot to the cutter and to the free end, 0 without
}

// Machine is the small CNC router.
type Machine struct {
	Travel        [3]float64
	FeedXY, FeedZ float64 // greatest
	Accel         float64
	SpindleLow    float64 // rpm
	SpindleHigh   float64
	Dial          bool // speed set by hand
	Backlash      [2]float64
}

// Mill is one end mill.
type Mill struct {
	Name        string
	Diameter    float64 // nominal
	Flutes      int
	FluteLength float64
	StickOut    float64            // from the collet
	Measured    map[string]float64 // material → true cutting diameter
}

// Cuts is the diameter the mill truly cuts in the material: measured, else nominal.
func (m Mill) Cuts(material string) float64 {
	if d, ok := m.Measured[material]; ok {
		return d
	}
	return m.Diameter
}

// Engraver is the tool for letters and lines.
type Engraver struct {
	Name  string
	Tip   float64 // width of the line it cuts
	Depth float64
	RPM   float64
	Feed  float64
}

// Sheet is stock for plates.
type Sheet struct {
	Name, Material     string
	Width, Height      float64 // X and Y
	Thickness          float64 // nominal
	Measured           float64 // 0 = not measured
	ChipLoad, StepDown float64 // mm per tooth, mm per pass
}

// Thick is the sheet's thickness, measured if it was.
func (s Sheet) Thick() float64 {
	if s.Measured > 0 {
		return s.Measured
	}
	return s.Thickness
}

// Defaults are the choices a flag may override.
type Defaults struct {
	Through, SafeZ       float64 // cut into the spoilboard; clearance above the sheet
	Ramp                 float64 // degrees
	FeedFactor           float64 // share of the table feed, 0.5 for a small gantry
	Zero                 string  // "table" or "top"
	Hold                 string  // "tabs", "screws" or "skin"
	Tabs                 int
	TabWidth, TabHeight  float64
	Skin                 float64
	Allowance, KerfExtra float64 // left by roughing; widening of the rough kerf
	Climb, Spring        bool
	Overtravel           float64
	Web, Clearance, Ease float64
	Posts                []string
}
