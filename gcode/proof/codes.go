package proof

// The codes of this package's findings. A code keeps its meaning for good. Where a
// finding means what one of package gcode means, it has that code: ArcRadii,
// NoFeed, RapidBelow, SpindleOff, SpindleBack, Travel.
//
// RS41x and RS42x: motions.
const (
	RapidLow   = "RS410" // XY rapid below the safe height: a clamp or a sheet that bows is in the way (common practice)
	RapidEnd   = "RS411" // Z rapid ends nearer than 1 mm to the sheet: a sheet that bows is hit at full speed (common practice)
	Plunge     = "RS412" // feed into uncut sheet steeper than the ramp: mills cut sideways, not on their face (common practice)
	StepDown   = "RS413" // a layer thicker than the step-down is cut in one pass: the mill breaks (common practice)
	TooDeep    = "RS414" // below the through-cut: the mill cuts into the table
	OffSheet   = "RS415" // the mill leaves the sheet, cutting or below the safe height: clamps and fences stand there
	FluteShort = "RS416" // deeper than the flutes are long: the shank rubs and burns
	Loose      = "RS417" // a cut inside an outline that is already cut through: the part may move
	FirstMove  = "RS418" // the first motion does not lift the mill: it may stand anywhere
	LastMove   = "RS419" // the program ends with the mill low
	Jump       = "RS420" // a move does not start where the one before ends
	NoPlace    = "RS421" // a coordinate is no number
	PauseLow   = "RS422" // the operator is called to a mill that is not lifted
	PauseSpin  = "RS423" // the operator is called to a mill that turns
	EngraveLow = "RS424" // engraved deeper than stated
	FrameLow   = "RS425" // a frame program goes below the safe height
	FrameSpin  = "RS426" // a frame program turns the spindle: hands guide the sheet
	NotTaken   = "RS428" // an axis turns in the sheet and the mill does not: its play is not taken up
	Upright    = "RS427" // arc outside the XY plane: no program of ours has one
)

// RS43x: feeds and speeds in the sheet.
const (
	FallFast = "RS430" // goes down faster than the mill stands
	FeedHigh = "RS431" // faster than planned: a feed word is lost or wrong
	FeedLow  = "RS432" // slower than planned: the mill rubs and burns
	SpeedOff = "RS433" // spindle speed outside the planned range
	SpinUp   = "RS434" // cuts before the spindle is up to speed
)

// RS44x: what holds the part, and the part itself.
const (
	TabSeat   = "RS440" // tab nearer than a mill's diameter to a seat: its stump would be in the way
	TabLong   = "RS441" // uncut wall longer than a tab
	TabFew    = "RS442" // fewer than two tabs on an outer wall: the part turns when it comes loose
	TabWeak   = "RS443" // what is left of a tab is too low to hold
	BoreShut  = "RS444" // a bore is not cut through all round
	TabPocket = "RS447" // tab where a pocket is open: its stump stands in the pocket
	NoPause   = "RS446" // no stop where the operator has to act: to drive the screws, to start the spindle
	Slug      = "RS448" // waste is cut loose: the mill throws it or jams on it (common practice)
	PartUnfit = "RS445" // the part itself cannot be held against moves
)

// RS45x: words that a program of our own has before its first motion, lest it
// inherit what the program before it left in force (NISTIR 6556, 3.6.1: the end of
// a program keeps the units and the length offset).
const (
	NoUnits  = "RS450" // neither G20 nor G21
	Inherits = "RS451" // a mode that the moves rely on is not stated
	Shifts   = "RS452" // a word that moves the zero, or changes the tool: no program of ours has one
	Blends   = "RS453" // G64: corners are cut by blending (NISTIR 6556, 3.5.14)
	Slashed  = "RS454" // a line that a switch on the machine leaves out: no program of ours has one (NISTIR 6556, 3.3)
	After    = "RS455" // something after the program's end, which a machine that is fed line by line still runs
)

// RS50x: the part.
const (
	Gouged    = "RS501" // the mill cuts into the part by more than the limit
	LeftOver  = "RS502" // wall that no through-cut reaches within the limit
	Uncut     = "RS503" // a whole wall that is never cut through
	StrayMark = "RS504" // engraved off the path
	FaintMark = "RS505" // a path that is not engraved all along

	PocketDeep = "RS506" // below the floor of a pocket
	PocketLeft = "RS507" // a pocket's floor or its wall that is not cleared within the limit
)
