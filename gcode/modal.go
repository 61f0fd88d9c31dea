package gcode

import "fmt"

// Modal groups of G and M words: N table 4. Two words of one group on a line are
// an error; so are two of the G words that are not modal, group 1 here.
const (
	gNone   = iota
	gAlone  // {G4 G10 G28 G30 G53 G92 G92.1 G92.2 G92.3}
	gMotion // {G0 G1 G2 G3 G38.2 G80 … G89}
	gPlane
	gDistance
	gFeedMode
	gUnits
	gCompensation
	gLength
	gReturn
	gWork
	gPath
	gArcDistance // {G91.1} of grbl
)

// groupOf is the modal group of each G code, by ten times its number; 0 for those
// that nobody here knows.
var groupOf = groupTable(map[int][]int{
	gAlone:        {40, 100, 280, 281, 300, 301, 530, 920, 921, 922, 923},
	gMotion:       {0, 10, 20, 30, 382, 383, 384, 385, 800, 810, 820, 830, 840, 850, 860, 870, 880, 890},
	gPlane:        {170, 180, 190},
	gDistance:     {900, 910},
	gFeedMode:     {930, 940},
	gUnits:        {200, 210},
	gCompensation: {400, 410, 420},
	gLength:       {430, 431, 490},
	gReturn:       {980, 990},
	gWork:         {540, 550, 560, 570, 580, 590, 591, 592, 593},
	gPath:         {610, 611, 640},
	gArcDistance:  {911},
})

// Modal groups of M words. M7 and M8 may both be in force, but not be said on one
// line (N table 4).
const (
	mStop = iota + 1
	mTool
	mSpindle
	mCoolant
	mOverride
)

var groupOfM = groupTable(map[int][]int{
	mStop:     {0, 10, 20, 300, 600},
	mTool:     {60},
	mSpindle:  {30, 40, 50},
	mCoolant:  {70, 80, 90},
	mOverride: {480, 490},
})

func groupTable(groups map[int][]int) (t [1000]uint8) {
	for g, codes := range groups {
		for _, c := range codes {
			t[c] = uint8(g)
		}
	}
	return t
}

// conflict says which earlier word the word w of the group bit clashes with.
func conflict(text []byte, before []Word, w Word, bit uint32) string {
	for _, o := range before {
		if o.Letter != w.Letter || o.code >= 1000 {
			continue
		}
		g := uint32(groupOf[o.code])
		if w.Letter == 'M' {
			g = 16 + uint32(groupOfM[o.code])
		}
		if 1<<g == bit {
			return fmt.Sprintf("%s beside %s: two codes of one modal group; want one of them", codeName(w), codeName(o))
		}
	}
	return fmt.Sprintf("%s: two codes of one modal group", codeName(w))
}

// codeName writes a G or M word as in the standard: G2, G38.2.
func codeName(w Word) string {
	if w.code == noCode {
		return string(w.Letter) + short(w.Value)
	}
	return nameOf(w.Letter, w.code)
}

func nameOf(letter byte, code uint16) string {
	if code%10 == 0 {
		return fmt.Sprintf("%c%d", letter, code/10)
	}
	return fmt.Sprintf("%c%d.%d", letter, code/10, code%10)
}
