package joint

import (
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// kind is a row of the table of joints: how the boards go past the cutter, the
// isometry that lays the second against the first, and how height and fence
// follow from cutter and boards.
type kind struct {
	name  string
	first way
	then  way

	// turn lays the second board's section into the first one's frame. Its
	// argument is where the second frame's origin goes.
	turn func(to orb.Point) geom.Iso
	// nested is where it goes with the cut lines in each other.
	nested func(*Setting) orb.Point
	// flush is where it goes with the outside faces aligned.
	flush func(*Setting) orb.Point
	// fit fills in the centre, or how two cutters mate; nil: the profile's centre
	// of symmetry.
	fit func(*Setting) error
	// limits fills in the ranges, from what fit found.
	limits func(*Setting)
	// place fills in the passes, or refuses.
	place func(*Setting) error

	// span is the height of the profile's stretch that meets its half turn about
	// a centre at the height h, and the lowest and highest such centre; nil for
	// joints without a half turn.
	span func(r Request, p geom.Path) span
	// centred is the height and the fence of the first pass for a profile whose
	// half turn about c closes the joint.
	centred func(r Request, p geom.Path, c orb.Point) (height, fence float64)

	corner bool // the outside faces meet in an outside corner, both tips sharp
	ends   bool // above the cutter the first board bears on the second one's end
	mates  bool // two cutters: the second is set to match the first, and errs alone
	lands  bool // a point of the profile may be asked to land somewhere
	skims  bool // a skim may be taken off everywhere
	laps   bool // the first board may stand beyond the second one's face
}

// span is the reach of the half turn that [Setting.Minimise] looks for.
type span struct {
	half     func(h float64) float64
	from, to float64
}

// way is one board's way past the cutter.
type way struct {
	name string
	lies Lie
}

// kinds is the table.
var kinds = []kind{
	{
		name:  "lock-miter",
		first: way{"flat", Flat}, then: way{"upright", Upright},
		turn: halfTurn, nested: centreOnCentre, flush: miterFlush,
		limits: miterLimits, place: lockMiter, span: miterSpan, centred: miterCentred,
		corner: true,
	},
	{
		name:  "edge-glue",
		first: way{"flat", Flat}, then: way{"turned", Flat},
		turn: halfTurn, nested: centreOnCentre, flush: glueFlush,
		limits: glueLimits, place: edgeGlue, span: glueSpan, centred: glueCentred,
		skims: true,
	},
	{
		name:  "drawer-lock",
		first: way{"flat", Flat}, then: way{"upright", Upright},
		turn: halfTurn, nested: centreOnCentre, flush: drawerFlush,
		limits: drawerLimits, place: drawerLock, span: drawerSpan, centred: drawerCentred,
		ends: true, laps: true,
	},
	{
		name:  "matched",
		first: way{"flat", Flat}, then: way{"second", Flat},
		turn: mirrored, nested: cutsMeet, flush: facesLevel,
		fit: matchedFit, limits: matchedLimits, place: matched,
		mates: true, lands: true, skims: true,
	},
	{
		name:  "edge",
		first: way{"flat", Flat},
		turn:  inPlace, nested: atOrigin, flush: atOrigin,
		fit: edgeFit, limits: edgeLimits, place: edgeProfile,
		lands: true,
	},
}

// Kinds are the names of the joints that [Solve] knows, as cutter files state
// them.
func Kinds() []string {
	var names []string
	for _, k := range kinds {
		names = append(names, k.name)
	}
	return names
}

func kindOf(name string) (*kind, error) {
	for i := range kinds {
		if kinds[i].name == name {
			return &kinds[i], nil
		}
	}
	return nil, &BadRequest{"joint", plainly(strconv.Quote(name)), plainly("a cutter for " + strings.Join(Kinds(), ", "))}
}

// halfTurn is the half turn of the section plane that carries the origin to the
// given point.
func halfTurn(to orb.Point) geom.Iso {
	return geom.HalfTurn(orb.Point{to[0] / 2, to[1] / 2})
}

// centreOnCentre is where the half turn puts the second frame's origin when it
// lays the profile's centre of the second pass on that of the first:
// (2·rc - D₁ - D₂, 2·hc + H₁ + H₂).
func centreOnCentre(s *Setting) orb.Point {
	a, b := s.Passes[0], s.Passes[1]
	return orb.Point{2*s.Centre[0] - a.Fence - b.Fence, 2*s.Centre[1] + a.Height + b.Height}
}

// Words is the joint's kind in words, as "lock miter".
func (s *Setting) Words() string { return Words(s.Joint) }

// Words is a kind's name in words.
func Words(kind string) string {
	switch kind {
	case "matched":
		return "matched set"
	case "edge":
		return "plain edge"
	case "edge-glue":
		return "edge glue joint"
	}
	return strings.ReplaceAll(kind, "-", " ")
}

// TurnsOver tells whether a board cut in the first pass nests in its like turned
// over, so that the flip test shows the height's error.
func (s *Setting) TurnsOver() bool { return s.kind != nil && s.kind.span != nil }

// HasCorner tells whether the outside faces meet in an outside corner, both tips sharp.
func (s *Setting) HasCorner() bool { return s.kind != nil && s.kind.corner && len(s.Passes) > 0 }

// Nested lays the second board against the first with their cut lines in each
// other, wherever the faces then stand.
func (s *Setting) Nested() geom.Iso { return s.kind.turn(s.kind.nested(s)) }

// Flush lays the second board against the first with the outside faces aligned,
// whatever gap the cut lines then leave.
func (s *Setting) Flush() geom.Iso { return s.kind.turn(s.kind.flush(s)) }
