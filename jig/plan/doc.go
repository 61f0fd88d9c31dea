// Package plan works out which board gets which pass: pieces with their faces,
// blanks wide enough to rip after milling, fence stages, test and spare pieces,
// backers, panels, the wood needed and the order of work, for boxes, drawers,
// frames, posts and edge-glued panels.
//
// In a box, frame or post with lock miter corners every side is as long (wide) as
// the outside. Two opposite sides are cut flat, the other two upright, so no side
// has one pass of each kind. The face that will be inside goes down, flat, or
// against the fence, upright. Common practice, no source.
//
// Lengths are mm, areas mm². Sentences carry their lengths apart, so that they can
// be said in any unit. What cannot be planned is a [*joint.Refusal].
package plan

import (
	"math"
	"slices"

	"blockwright/jig/joint"
)

// A Piece is one finished part, or several that are the same.
type Piece struct {
	Label                    string
	Count                    int
	Length, Width, Thickness float64
	Pass                     string // flat, upright, turned, second; "" without a pass
	Face                     string // which face lies where in the pass
}

// A Blank is a board to prepare before milling, as wide as several pieces.
type Blank struct {
	For                      string // labels of the pieces
	Width, Length, Thickness float64
	Count                    int
}

// A Need is board of one thickness.
type Need struct {
	Thickness float64
	Area      float64 // mm², of the blanks as they are, without waste
}

// A Plan is the whole job in order.
type Plan struct {
	Title    joint.Message
	Warnings []joint.Message // of the setting
	Pieces   []Piece
	Blanks   []Blank
	Ripped   string             // what becomes of the blanks, as "to be ripped after milling"
	Passes   []string           // names of the joint's passes, in order
	Stages   map[string][]Stage // by pass
	Steps    []joint.Message
	Notes    []joint.Message
	Needs    []Need // thinnest first
}

// Saw is how boards are prepared.
type Saw struct {
	Kerf   float64 // of the saw
	Edge   float64 // allowance on both edges of a blank, planed or ripped off
	Spares int     // of each kind of piece
	Test   Test    // the zero value is [DefaultTest]
	Play   float64 // room that a panel has in its grooves, both sides together; 0 = [DefaultPlay]
	Grid   float64 // to which grooves and spacers are rounded; 0 = [DefaultGrid]
}

// Test is the size of test pieces: along the fence, and from it.
type Test struct{ Length, Width float64 }

// DefaultPlay is for plywood: common practice, no source. DefaultGrid is what a
// caliper is set to without thinking.
const (
	DefaultPlay = 1.0
	DefaultGrid = 0.1
)

// DefaultTest: at least 300 along the fence and 100 wide. Common practice, no source.
var DefaultTest = Test{300, 100}

// blankWidth is the width of a blank that gives n pieces of width w:
// n·w + (n - 1)·kerf + 2·edge. Two sides of 4 in take about 9 in. Common practice,
// no source.
func (s Saw) blankWidth(n int, w float64) float64 {
	return float64(n)*w + float64(n-1)*s.Kerf + 2*s.Edge
}

// check refuses a saw that cannot be and fills in the size of test pieces.
func (s *Saw) check() error {
	if s.Test == (Test{}) {
		s.Test = DefaultTest
	}
	if s.Play == 0 {
		s.Play = DefaultPlay
	}
	if s.Grid == 0 {
		s.Grid = DefaultGrid
	}
	if !(s.Spares >= 0 && s.Spares <= 10) {
		return joint.Refuse("a count of spare pieces out of reason; want 0 to 10 of each kind")
	}
	return within(size{"the saw's kerf", s.Kerf, 0, 10}, size{"the edge allowance", s.Edge, 0, 100},
		size{"the test pieces' length", s.Test.Length, 50, 1000}, size{"their width", s.Test.Width, 20, 500},
		size{"a panel's play", s.Play, 0, 20}, size{"the grid of sizes", s.Grid, 0.01, 5})
}

// faceOf says which face lies where in a pass.
func faceOf(p joint.Pass) string {
	if p.Lies == joint.Upright {
		return "inside face against the fence"
	}
	return "inside face down"
}

// corner tells whether the setting makes corners: one board flat, one upright.
func corner(s *joint.Setting) bool {
	return s != nil && len(s.Passes) == 2 && s.Passes[1].Lies == joint.Upright
}

// label of a test piece begins so.
const test = "test, "

// addTests adds test pieces and the blanks that they are cut from. Across the
// grain they are as long as Test's width and stand side by side along the board;
// along the grain they are ripped from it.
func (p *Plan) addTests(saw Saw, s *joint.Setting, along bool) {
	first, then := s.Passes[0], s.Passes[1]
	length, width := saw.Test.Width, saw.Test.Length
	if along {
		length, width = width, length
	}
	need := map[float64]int{}
	add := func(label string, n int, of joint.Pass, face string) {
		p.Pieces = append(p.Pieces, Piece{test + label, n, length, width, of.Stock, of.Name, face})
		need[of.Stock] += n
	}
	switch {
	case s.Joint == "drawer-lock":
		add("front", 1, first, faceOf(first))
		add("side", 1, then, faceOf(then))
	case then.Lies == joint.Upright:
		add("flat", 2, first, faceOf(first))
		add("upright", 1, then, faceOf(then))
	case then.Cutter != first.Cutter:
		add("first", 1, first, "face down, as the work")
		add("second", 1, then, "the same face down")
	default:
		add("one", 1, first, "good face down")
		add("other", 1, then, "good face up")
	}
	for _, t := range thicknesses(need) {
		n := need[t]
		b := Blank{"tests", width, float64(n)*length + float64(n-1)*saw.Kerf, t, 1}
		if along {
			b = Blank{"tests", saw.blankWidth(n, width), length, t, 1}
		}
		p.Blanks = append(p.Blanks, b)
	}
}

func thicknesses[V any](m map[float64]V) []float64 {
	var ts []float64
	for t := range m {
		ts = append(ts, t)
	}
	slices.Sort(ts)
	return ts
}

// reckon adds up the board that the blanks, and panels given as pieces, need.
func (p *Plan) reckon() {
	area := map[float64]float64{}
	for _, b := range p.Blanks {
		area[b.Thickness] += b.Width * b.Length * float64(b.Count)
	}
	for _, q := range p.Pieces {
		if q.Label == "panel" || q.Label == "bottom" {
			area[q.Thickness] += q.Width * q.Length * float64(q.Count)
		}
	}
	p.Needs = nil
	for _, t := range thicknesses(area) {
		p.Needs = append(p.Needs, Need{t, area[t]})
	}
}

// thickest is the greater thickness of the setting's boards.
func thickest(s *joint.Setting) float64 {
	t := 0.0
	for _, p := range s.Passes {
		t = math.Max(t, p.Stock)
	}
	return t
}

// down rounds a length down to the grid, up rounds it up.
func (s Saw) down(mm float64) float64 { return math.Floor(mm/s.Grid+1e-9) * s.Grid }
func (s Saw) up(mm float64) float64   { return math.Ceil(mm/s.Grid-1e-9) * s.Grid }

// stage divides every pass into positions of the fence.
func (p *Plan) stage(saw Saw, s *joint.Setting) {
	p.Warnings = s.Warnings
	p.Stages = map[string][]Stage{}
	for _, q := range s.Passes {
		p.Passes = append(p.Passes, q.Name)
		p.Stages[q.Name] = stages(q, saw.Grid)
	}
}
