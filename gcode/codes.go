package gcode

// The codes of findings. A code keeps its meaning for good. N is NISTIR 6556
// with the section; "grbl" that open firmware's documentation of version 1.1.
//
// RS0xx: the text and its words.
const (
	BadCharacter  = "RS001" // control character, NUL, or a byte above 0x7F: RS-274 is ASCII (N 3.3)
	LineLong      = "RS002" // more than 256 characters (N 3.3)
	CommentOpen   = "RS003" // comment not closed on its line (N 3.3.4)
	CommentNested = "RS004" // "(" within a comment (N 3.3.4)
	CommentClose  = "RS005" // ")" without "(" (N 3.3.4)
	BadNumber     = "RS006" // a letter without a proper number (N 3.3.2.1)
	BadLetter     = "RS007" // no word starts so (N 3.3.2, table 3)
	Expression    = "RS008" // parameters and expressions are not understood (N 3.3.2.2, 3.3.2.3)
	BadSlash      = "RS009" // "/" that is not first on its line (N 3.3)
	LineNumber    = "RS010" // N word not first, signed, with a fraction or above 99999 (N 3.3.1)
	Repeated      = "RS011" // a letter twice on a line (N 3.3.5)
	GroupConflict = "RS012" // two words of one modal group (N 3.3.5, table 4)
	ManyM         = "RS013" // more than four M words (N 3.3.5)
	PercentOpen   = "RS014" // a first line "%" and neither a second nor a program end (N 3.1)
	PercentPlace  = "RS015" // "%" where none may be (N 3.1)
	NoEnd         = "RS016" // no M2, M30 or second "%" at the end, or no block before it (N 3.1)
	BadCode       = "RS017" // the number of a G or M word is no code (N 3.3.2.1, near-integers)
	NoMotion      = "RS019" // axis words and no code that uses them (N 3.5, "it is an error if axis words are programmed when G80 is active")
	UnusedWord    = "RS020" // a word that no code of the line uses (N 3.5; grbl error 36)
	MissingWord   = "RS021" // a code lacks a word it needs (N 3.5; grbl errors 26 and 28)
	BadValue      = "RS022" // a value out of its range (N 3.5)
	AxisConflict  = "RS023" // two codes of a line use its axis words (N 3.3.5, table 4)
	TooMany       = "RS099" // the rest is not listed (ours)
)

// RS1xx: feed and spindle.
const (
	NoFeed       = "RS101" // a feed move and no feed rate set (N 3.5.2, 3.5.3; grbl error 22)
	SpindleOff   = "RS102" // a feed move below the sheet's top with the spindle off (common practice)
	SpindleZero  = "RS103" // the same with the spindle on at speed 0 (common practice)
	InverseFeed  = "RS104" // G93 is active and the line of a feed move has no F (N 3.5.19)
	SpindleBack  = "RS105" // cutting counter-clockwise: end mills for routers cut clockwise (common practice)
	FeedTooGreat = "RS106" // feed above the machine's (its shop file)
)

// RS2xx: arcs.
const (
	ArcNoOffset   = "RS201" // neither offsets in the plane nor a radius (N 3.5.3.2; grbl error 35)
	ArcRadii      = "RS202" // radii at start and end differ by more than 0.002 mm or 0.0002 in (N 3.5.3.2; grbl error 33)
	ArcNoEnd      = "RS203" // radius form and the end is the start (N 3.5.3.1)
	ArcRadius     = "RS204" // radius form and the radius is too small to reach the end (N 3.5.3.1)
	ArcBothForms  = "RS205" // a radius and offsets on one line (N 3.5.3)
	ArcWrongPlane = "RS206" // an offset that is not of the plane (N 3.5.3.2)
	ArcZero       = "RS207" // the radius is zero (N 3.5.3)
	ArcNoAxis     = "RS208" // no axis word of the plane (N 3.5.3.2; grbl error 26)
)

// RS3xx: where the machine would go.
const (
	Travel       = "RS301" // a move leaves the machine's travel (its shop file)
	ReferencePos = "RS302" // G28 or G30: the program does not say where that is (N 3.5.10)
	MachinePos   = "RS303" // G53: the program does not say where the machine's zero is (N 3.5.13)
	WorkOffset   = "RS304" // another work offset, and the program does not say where it is (N 3.5.5, 3.5.13)
	LengthOffset = "RS307" // G43.1 after cuts with the same tool: Z means another height (grbl)
	FarAway      = "RS306" // farther than a kilometre: no machine (ours)
	LostPos      = "RS305" // a move from a place that is not known, see the findings before (ours)
)

// RS4xx: the sheet. Those from RS410 on are of package proof.
const (
	RapidBelow = "RS401" // an XY rapid below the sheet's top (common practice)
	RapidDown  = "RS402" // a rapid straight down below the sheet's top where no hole has been fed (common practice)
)

// RS6xx: right RS-274 that the dialect, or this reader, does not take.
const (
	DialectLine      = "RS601" // line longer than the dialect's controller reads (grbl error 11)
	DialectDigits    = "RS602" // more digits than the dialect's controller reads (grbl, "8 digits")
	DialectCode      = "RS603" // a code that is not in the dialect (N table 5 and 7; grbl error 20)
	DialectRealTime  = "RS604" // ? ! or ~: the controller acts on it at once, also within a comment (grbl)
	DialectPercent   = "RS605" // the dialect has no "%" line (grbl error 1)
	DialectSemicolon = "RS606" // the dialect has no comments after ";" (N 3.3.4)
	OtherAxis        = "RS607" // a rotary axis is not followed (ours)
	NotFollowed      = "RS608" // a code of the dialect that this reader does not follow (ours)
	ToolChange       = "RS609" // M6 after a cut, while one mill's moves are looked at (ours)
)
