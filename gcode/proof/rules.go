package proof

// Kind says what a program is for.
type Kind uint8

// The kinds of programs.
const (
	Milling   Kind = iota // cuts walls and bores through the sheet; may engrave
	Engraving             // only engraves
	Frame                 // traces the extents above the sheet, spindle off
)

// Holding says what keeps the part in the sheet when its outline is cut.
type Holding uint8

// The ways to hold a part.
const (
	ByTabs   Holding = iota // at least two on each outer wall
	ByScrews                // no tab wanted
	BySkin                  // Rules.Skin is left at the bottom
	Held                    // by screws that an earlier program stopped for: no tab and no stop wanted
	Unknown                 // tabs are listed, none is wanted
)

// Rules are the limits that a program is held to. 0 means not checked where it
// says so.
type Rules struct {
	Own     bool    // planned here: order, ends and safe heights are as our own plan states them
	Limit   float64 // mm: gouge and leftover
	Through float64 // mm: deepest below the sheet
	Safe    float64 // mm above the sheet: XY rapids are this high or higher
	Near    float64 // mm above the sheet: no Z rapid of our own ends lower
	Ramp    float64 // radians: steepest feed into uncut sheet; 0: not checked
	Sliver  float64 // mm: what may stand beside a mill that comes straight down into its kerf
	Step    float64 // mm: thickest layer cut in one pass; 0: not checked
	Side    float64 // mm: how much a pass may take off the side of a kerf at full depth; 0: a quarter of the mill
	Loose   bool    // what was milled away before is not known: waste that is cut loose is not looked for
	Hold    Holding
	Dial    bool       // the operator sets and starts the spindle: the program stops for it before the first cut
	Skin    float64    // mm left at the bottom by BySkin
	Tab     float64    // mm: longest tab; the uncut wall is longer by the mill's diameter
	TabHigh float64    // mm: height of a tab; 0: not checked
	Engrave float64    // mm: deepest engraving
	Travel  [3]float64 // mm: the machine's; 0: not checked
	Feed    float64    // mm/min: highest feed in the sheet; 0: not checked
	Descend float64    // mm/min: highest feed straight down into the sheet; 0: not checked
	FeedLow float64    // mm/min: below it the mill rubs; 0: not checked
	RPMLow  float64    // 0: not checked
	RPMHigh float64    // 0: not checked
	Flute   float64    // mm: length of the mill's flutes; 0: not checked
	Play    [2]float64 // mm of motion that X and Y lose when they turn; 0: the mill goes where it is told
	SpinUp  float64    // s: pause between spindle start and first cut; 0: not checked
}

// House is what programs of our own are held to: through-cut, safe height, ramp
// and tab are this package's defaults for them (common practice, no source).
func House() Rules {
	return Rules{
		Own:     true,
		Limit:   0.0005,
		Through: 0.5,
		Safe:    5,
		Near:    1,
		Ramp:    5 * degree,
		Sliver:  0.005,
		Hold:    ByTabs,
		Tab:     4,
		TabHigh: 1.2,
		Engrave: 0.5,
	}
}

// Foreign is what a program from anywhere is held to: what is a hazard or a fault
// of the part whoever wrote it, not how it was planned.
func Foreign() Rules {
	r := House()
	r.Own = false
	r.Safe, r.Near = 0, 0
	r.Ramp = 0
	r.Hold = Unknown
	r.Tab, r.TabHigh = 12, 0
	return r
}

const degree = 3.14159265358979323846 / 180
