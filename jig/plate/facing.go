package plate

import (
	"errors"
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/joint"
	"blockwright/jig/shop"
)

// The facing's own measures in mm: common practice, no source.
const (
	facingClear = 0.5  // of lip and pocket from the cutter, in the facing's plane
	facingLip   = 2.0  // thickness of what stays round the opening at the face
	facingFrame = 20.0 // of the facing beside and above the opening, at least
	facingRest  = 20.0 // on each half of the fence
	facingWeb   = 3.0  // height of a bridge between opening and table that is worth keeping
	shallowest  = 0.5  // depth of a pocket that is worth milling
)

// facingSpare is added to the clearance for what the fit may be off, inwards, and
// slivers left at corners.
const facingSpare = fitted + 2e-3

// FacingRequest asks for a sacrificial fence facing.
type FacingRequest struct {
	Pass  joint.Pass
	Table shop.Table
	Thick float64 // measured thickness of the sheet, mm
	Mark  string
}

// FacingFigures say what a facing is like at the cutter, in mm.
type FacingFigures struct {
	Thick float64 // by which it moves the fence's plane forward
	Lip   float64 // thickness of the opening's rim at the face; the sheet's where there is no pocket
	Clear float64 // stated clearance from the cutter
	// Gap is how far the lip stands off the cutter's silhouette in the face, beside
	// the widest land.
	Gap   float64
	Fence float64 // how far the axis stands behind the fence's own face; negative: before it
}

// Facings designs the facing of one pass: a plate that stands on the table against
// both halves of the fence and closes its opening up to the cutter. It stands in
// the plane along the fence: X along it, 0 at the spindle, Y up from the table, and
// is milled with its back up. Its face becomes the fence's plane, so the fence
// itself stands back by the plate's thickness f.
//
// At the depth y behind the face, 0 ≤ y ≤ f, a cutter whose axis stands D behind it
// sweeps √(r² - (D-y)²) to both sides of the spindle, r itself where the axis lies
// in the plate. The facing is put on from the front, and with fence stages it stands
// farther out before the last, so it must clear every D' ≥ D as well: the lip, down
// to the depth t, stands clear of √(r² - max(0, D-t)²), what is behind it of
// √(r² - max(0, D-f)²).
//
// One step does for all: the work sees no more than the gap at the face, which is
// the lip's thickness' doing, and a taper that followed the silhouette out to the
// face would end there in an edge without thickness. Where the axis lies within the
// lip's depth, or the sheet is hardly thicker, the opening goes straight through.
//
// Each design returned is an alternative, best first: the opening's corners may
// stray for the mill's sake a little, more, or the opening is a plain notch as wide
// and high as the cutter.
func Facings(r FacingRequest) ([][]Plate, FacingFigures, error) {
	var f FacingFigures
	if !r.Pass.Cutter.Known[0] {
		return nil, f, &joint.Refusal{Why: joint.Saying("facing: the radius of cutter %s is not known, so neither is what it sweeps of the fence's plane", r.Pass.Cutter.Handle)}
	}
	lip, pocket := facingLip, r.Thick-facingLip
	if pocket < shallowest || r.Pass.Fence <= facingLip {
		lip, pocket = r.Thick, 0
	}
	front := silhouette(r.Pass, math.Max(0, r.Pass.Fence-lip))
	back := silhouette(r.Pass, math.Max(0, r.Pass.Fence-r.Thick))
	if geom.Intersection(front, geom.Region{geom.Rect(-1e4, 0, 1e4, 1e4)}).Area() < geom.Tol {
		return nil, f, &joint.Refusal{Why: joint.Saying("facing: the cutter nowhere stands out of it above the table, so a plain one does")}
	}
	f = FacingFigures{Thick: r.Thick, Lip: lip, Clear: facingClear, Fence: r.Pass.Fence - r.Thick}
	f.Gap = facingGap(r.Pass, lip)
	opening, err := cleared(front)
	if err != nil {
		return nil, f, err
	}
	s := facingShape{r: r, lip: lip, pocket: pocket, front: front, back: back, opening: opening}
	if pocket > 0 {
		if s.floor, err = cleared(back); err != nil {
			return nil, f, err
		}
		s.floor = geom.Union(s.floor, s.opening)
	}
	var out [][]Plate
	for _, stray := range []float64{1, 2.5} {
		p, err := s.plate(stray)
		if err != nil {
			return nil, f, err
		}
		out = append(out, []Plate{p})
	}
	for _, ground := range []*geom.Region{&s.opening, &s.floor} {
		if len(*ground) > 0 {
			b := ground.Bound()
			*ground = geom.Region{geom.Rect(b.Min[0], -below, b.Max[0], b.Max[1])}
		}
	}
	p, err := s.plate(5)
	if err != nil {
		return nil, f, err
	}
	return append(out, []Plate{p}), f, nil
}

// below is how far in mm under the table openings are carried on.
const below = 30.0

// cleared is a silhouette with the clearance round it, carried on down through the
// table's plane where less than a bridge would stay.
func cleared(s geom.Region) (geom.Region, error) {
	o, err := s.Offset(facingClear + facingSpare)
	if err != nil {
		return nil, err
	}
	for _, p := range o {
		b := p.Bound()
		if p.Area() < 0 || b.Min[1] <= -facingWeb || b.Min[1] > facingWeb {
			continue
		}
		foot := geom.Intersection(o, geom.Region{geom.Rect(-1e4, -1e4, 1e4, b.Min[1]+facingWeb)})
		half := foot.Bound().Max[0]
		o = geom.Union(o, geom.Region{geom.Rect(-half, -below, half, b.Min[1]+facingWeb)})
	}
	return o, nil
}

// facingGap is how far the lip stands off the silhouette in the face, beside the
// widest place of the cut line.
func facingGap(p joint.Pass, lip float64) float64 {
	q, ok := p.Profile().MostX(0, math.Inf(1))
	if !ok {
		return facingClear
	}
	r := q[0] + p.Fence
	half := func(d float64) float64 { return math.Sqrt(math.Max(0, (r-d)*(r+d))) }
	return half(math.Max(0, p.Fence-lip)) - half(math.Abs(p.Fence)) + facingClear
}

// facingShape is a facing before its corners are thought of.
type facingShape struct {
	r              FacingRequest
	lip, pocket    float64     // mm
	front, back    geom.Region // swept, without clearance
	opening, floor geom.Region // with it
}

func (s *facingShape) plate(stray float64) (Plate, error) {
	p := Plate{Kind: "facing", Part: "facing", Mark: s.r.Mark}
	all := geom.Union(s.opening, s.floor)
	b := all.Bound()
	half := math.Ceil(math.Max(s.r.Table.FenceWidth/2+facingRest, math.Max(b.Max[0], -b.Min[0])+facingFrame) - 1e-9)
	high := math.Ceil(math.Max(b.Max[1]+facingFrame, s.r.Pass.Stock) - 1e-9)
	v := []geom.Vertex{geom.V(-half, 0), geom.V(half, 0)}
	v = append(v, round(half, high, rounding, 1)...)
	v = append(v, geom.B(-half+rounding, high, math.Tan(math.Pi/8)), geom.V(-half, high-rounding))
	blank := geom.Path{V: v, Closed: true}
	p.Outline = geom.Difference(geom.Region{blank}, s.opening)
	if n := len(outers(p.Outline)); n != 1 {
		return p, errors.New("facing: the cutter's opening parts the plate")
	}
	p.Hollow = []Hollow{{s.opening, stray}}
	p.Rooms = []Room{{Swept: s.front, By: facingClear}}
	if s.pocket > 0 {
		p.Pockets = []Pocket{{s.floor, s.pocket}}
		p.Rooms = append(p.Rooms, Room{s.back, facingClear, s.pocket})
	}
	for _, o := range outers(p.Outline) {
		for i := range o.Edges() {
			e := o.Edge(i)
			m := e.At(0.5)
			switch {
			case blank.Nearest(m).Dist > geom.Tol:
				p.Bare = append(p.Bare, pathOf(e))
			case m[1] < geom.Tol && e.Length() > MinSeat:
				p.Seats = append(p.Seats, Seat{Name: "lower edge", Path: pathOf(e)})
			}
		}
	}
	p.Ghost = []geom.Path{}
	for _, g := range silhouette(s.r.Pass, 0) {
		p.Ghost = append(p.Ghost, g)
	}
	hole := orb.Point{half - holeRoom - holeSize/2, high - holeRoom - holeSize/2}
	p.Drill = []geom.Path{geom.Circle(hole, holeSize/2)}
	top := b.Max[1] + 3
	p.Engrave = []geom.Path{line(0, high-6, 0, high-1)} // the spindle's plane
	p.mark(box{-half + 5, top, -4, high - 3}, false)
	return p, nil
}
