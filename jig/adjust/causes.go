package adjust

// A Cause is one of the things that make a block, a gauge or any milled size wrong
// by 0.05 to 0.2 mm.
type Cause struct {
	Name    string
	Shows   string // what it looks like
	Decides string // the sizes that tell it from the others
	Do      string
}

// Causes is the checklist for a fixture that is off by 0.05 to 0.2 mm: what is quick
// to look at first, then what has to be measured. The signs follow from [FromWitness]
// and [FromTrial]; the rest is common practice, no source.
func Causes() []Cause {
	return []Cause{
		{"fuzz on the arris", "sizes shrink when the edge is wiped or sanded lightly",
			"the same size read again over edges freed of fuzz and chips, at three places: readings within 0.02 mm",
			"free every edge before measuring; do not sand a seat"},
		{"a part that moved", "one wall is wrong, its opposite is not; a step where the pass began and ended",
			"the size at both ends of the same pair of edges: they differ by more than 0.03 mm",
			"clamp better, more tabs or screws, mill anew; no correction helps"},
		{"diameter and runout", "outsides small and windows large by the same amount, in X and Y alike",
			"trial: big and small are off alike, the window by as much the other way; witness: x and y are off alike",
			"finish measured, or enter the measured diameter for this sheet's material in shop.toml"},
		{"backlash", "sizes depend on the side from which a wall is approached",
			"witness: x off more than y, half the difference is lost; trial: outside and window both small",
			"finish measured makes up for it; better take it out of the machine"},
		{"skew", "diagonals of a square differ, sides do not",
			"trial: the two diagonals; 0.1 mm on 140 mm is 0.04 degrees",
			"square the gantry; programs are never sheared"},
		{"steps per mm", "the error grows with the size, and differs between X and Y",
			"trial: big off more than small, in proportion to the size",
			"enter the new steps per mm in the machine; programs are never scaled"},
		{"a wrong cutter file", "the plates measure right, the cutter does not meet the seats",
			"the cutter's largest diameter and its height by caliper against 'blockwright cutter show'",
			"correct the file, or trace a test cut; then make the fixture anew"},
	}
}
