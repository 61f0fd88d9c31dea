package proof

// The codes of this package's findings. A code is for good. RS40x and RS41x are
// motions, RS42x feeds and speeds, RS43x what holds the part, RS44x words that a
// program of our own must have, RS50x what is left of the part.
const (
	RapidLow   = "RS401" // XY rapid below the safe height: the mill crosses the sheet without cutting (common practice)
	RapidEnd   = "RS402" // Z rapid ends nearer than 1 mm to the sheet: a sheet that bows is hit at full speed (common practice)
	Plunge     = "RS403" // feed into uncut sheet steeper than the ramp: mills cut sideways, not on their face (common practice)
	TooDeep    = "RS404" // below the through-cut: the mill cuts into the table
	OffSheet   = "RS405" // the mill leaves the sheet: clamps and fences stand there
	SpindleOff = "RS406" // in the sheet with the spindle off or turning backwards: the mill breaks
	Loose      = "RS407" // a cut inside an outline that is already cut through: the part may move
	FirstMove  = "RS408" // the first motion does not lift the mill: it may stand anywhere
	LastMove   = "RS409" // the program ends with the mill low
	Jump       = "RS410" // a move does not start where the one before ends
	NoPlace    = "RS411" // a coordinate is no number
	StepDown   = "RS412" // a layer thicker than the step-down is cut in one pass: the mill breaks
	FluteShort = "RS413" // deeper than the flutes are long: the shank rubs and burns
	PauseLow   = "RS414" // the operator is called to a mill that is not lifted
	PauseSpin  = "RS415" // the operator is called to a mill that turns
	EngraveLow = "RS416" // engraved deeper than stated
	FrameLow   = "RS417" // a frame program goes below the safe height
	FrameSpin  = "RS418" // a frame program turns the spindle: hands guide the sheet
	Upright    = "RS419" // arc outside the XY plane: no program of ours has one
	ArcRadii   = "RS400" // an arc whose ends lie at two radii: controllers differ in what they make of it (NISTIR 6556, 3.5.3.2)
	NoFeed     = "RS420" // feed move without a feed: the controller takes the last one, or none
	FeedHigh   = "RS421" // faster in the sheet than the machine or the mill stands
	FeedLow    = "RS422" // so slow that the mill rubs and burns
	SpeedOff   = "RS423" // spindle speed outside the stated range
	SpinUp     = "RS424" // cuts before the spindle is up to speed
	Travel     = "RS425" // the extents exceed the machine's travel
	TabSeat    = "RS430" // tab nearer than a mill's diameter to a seat: its stump would be in the way
	TabLong    = "RS431" // uncut wall longer than a tab
	TabFew     = "RS432" // fewer than two tabs on an outer wall: the part turns when it comes loose
	TabWeak    = "RS433" // what is left of a tab is too low to hold
	BoreShut   = "RS434" // a bore is not cut through all round
	PartUnfit  = "RS435" // the part itself cannot be held against moves
	Gouged     = "RS501" // the mill cuts into the part by more than the limit
	LeftOver   = "RS502" // wall that no through-cut reaches within the limit
	Uncut      = "RS503" // a whole wall that is never cut through
	StrayMark  = "RS504" // engraved off the path
	FaintMark  = "RS505" // a path that is not engraved all along
)
