package plate

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/joint"
	"blockwright/jig/shop"
)

// The block's own measures in mm: common practice, no source.
const (
	bearing   = 40.0 // least length of table edge beyond the insert opening
	earRoom   = 10.0 // of the ear below and above its slot
	barDepth  = 30.0 // of the crossbar, in x
	barRest   = 20.0 // of the crossbar on each half of the fence
	lapLoose  = 0.2  // of the cross-lap on the sheet's measured thickness
	lapRoom   = 0.2  // between the bottoms of the cross-lap, so that both backs come flush
	rounding  = 3.0  // radius of a plate's free outside corners
	clearance = 2.0  // of the plate from a cutter that reaches out of the fence above the stock
	holeSize  = 8.0  // hanging hole
	holeRoom  = 5.0  // least material round it
)

// BlockRequest asks for a height setup block.
type BlockRequest struct {
	Pass  joint.Pass
	Table shop.Table
	Thick float64 // measured thickness of the sheet, mm
	Clear float64 // clearance of the cut-line edges that are no seat, mm
	Ease  float64 // leg of the eased corners, mm
	Mark  string  // engraved
}

// Blocks designs the height setup block: an upright plate whose end is the
// board's section at the right setting, with an ear that lies against the fence,
// and a crossbar, lapped on the ear, that bridges the fence opening.
//
// Only one edge of the cut line sets the height and one sets the fence; see
// [candidates]. Each design returned is the plate and the crossbar for one such
// pair, best pair first; which of them can be milled is for [Fit] to say. It
// fails where no two edges of the cut line can set both.
func Blocks(r BlockRequest) ([][]Plate, error) {
	end := boardEnd(r.Pass.CutLine, r.Pass.Stock)
	if len(end.V) < 2 {
		return nil, fmt.Errorf("block: the cut line has no length")
	}
	end = splitBends(end)
	pairs, err := candidates(end, r.Pass.Profile())
	if err != nil {
		return nil, err
	}
	s := shapeOf(r, end)
	bar := crossbar(r)
	var out [][]Plate
	for _, p := range pairs {
		out = append(out, []Plate{s.plate(r, end, p), bar})
	}
	return out, nil
}

// blockShape holds the block's sizes in the table frame.
type blockShape struct {
	length       float64 // greatest x
	bears        float64 // x from which the table edge bears on the table
	earLow, high float64 // z of the ear's lower end and of the top
	slotLow      float64 // z
	slotHigh     float64
	overX, overZ float64 // the cutter above the stock, plus clearance; overZ = 0 where it stays behind the fence
}

func shapeOf(r BlockRequest, end geom.Path) blockShape {
	var s blockShape
	stock := r.Pass.Stock
	s.bears = r.Table.InsertOpening/2 - r.Pass.Fence
	s.earLow = stock
	s.overX, s.overZ = over(r.Pass)
	if s.overZ > 0 {
		s.earLow = s.overZ
	}
	ear := 2*earRoom + r.Thick
	s.high = s.earLow + ear
	s.slotLow = s.earLow + earRoom - lapLoose/2
	s.slotHigh = s.slotLow + r.Thick + lapLoose
	reach := math.Max(end.Bound().Max[0], s.overX)
	s.length = math.Max(s.bears+bearing, math.Max(reach+25, barDepth+2*holeRoom+holeSize))
	s.length = math.Ceil(s.length - 1e-9)
	return s
}

// over is how far the cutter or its body reaches out of the fence above the
// stock, with the clearance added: x and the height where that ends; 0, 0 where
// it stays behind the fence.
func over(p joint.Pass) (x, z float64) {
	for _, path := range []geom.Path{p.Profile(), p.Body()} {
		for i := range path.Edges() {
			for _, above := range splitAt(path.Edge(i), 1, p.Stock) {
				if above.At(0.5)[1] <= p.Stock {
					continue
				}
				for _, out := range splitAt(above, 0, 0) {
					if out.At(0.5)[0] > geom.Tol {
						b := out.Bound()
						x, z = math.Max(x, b.Max[0]), math.Max(z, b.Max[1])
					}
				}
			}
		}
	}
	if z == 0 {
		return 0, 0
	}
	return x + clearance, z + clearance
}

// plate is the upright plate with the given pair of cut-line edges as seats.
func (s blockShape) plate(r BlockRequest, end geom.Path, seats pair) Plate {
	p := Plate{Kind: "block", Part: "plate", Mark: r.Mark}
	down := end.Reverse() // the plate lies on the left of the downward cut line
	var v []geom.Vertex
	foot := down.End()
	v = append(v, geom.V(foot[0], 0))
	v = append(v, round(s.length, 0, rounding, 0)...)
	v = append(v, round(s.length, s.high, rounding, 1)...)
	v = append(v,
		geom.V(0, s.high),
		geom.V(0, s.slotHigh), geom.V(barDepth/2+lapRoom/2, s.slotHigh),
		geom.V(barDepth/2+lapRoom/2, s.slotLow), geom.V(0, s.slotLow),
		geom.V(0, s.earLow))
	if s.overZ > 0 {
		v = append(v, geom.V(s.overX, s.earLow), geom.V(s.overX, r.Pass.Stock))
	}
	v = append(v, down.V[:len(down.V)-1]...)
	outline, err := geom.NewPath(true, v...)
	if err != nil {
		panic("plate: the block's outline has no vertices: " + err.Error())
	}
	p.Outline = geom.Region{outline.Merge()}

	low := s.earLow
	if s.overZ == 0 {
		low += r.Ease
	}
	p.Seats = []Seat{
		{Name: "table edge", Path: line(s.bears, 0, s.length-rounding, 0)},
		{Name: "height", Path: seats.height, Fixes: 'z'},
		{Name: "fence", Path: seats.fence, Fixes: 'x'},
		{Name: "ear, upper", Path: line(0, s.high, 0, s.slotHigh)},
		{Name: "ear, lower", Path: line(0, s.slotLow, 0, low)},
	}
	p.cutLine(down, func(e geom.Edge) bool {
		m := e.At(0.5)
		return seats.height.Nearest(m).Dist < geom.Tol || seats.fence.Nearest(m).Dist < geom.Tol
	}, r.Clear, r.Ease)
	for _, z := range [2]float64{s.slotHigh, s.slotLow} {
		p.Enter = append(p.Enter, Corner{At: orb.Point{barDepth/2 + lapRoom/2, z}})
	}
	p.Ghost = ghost(r.Pass)
	hole := orb.Point{s.length - holeRoom - holeSize/2, s.high - holeRoom - holeSize/2}
	p.Drill = []geom.Path{geom.Circle(hole, holeSize/2)}
	reach := math.Max(down.Bound().Max[0], s.overX)
	p.mark(box{reach + 4, 4, s.length - 4, s.earLow + earRoom - 2}, false)
	return p
}

// cutLine records what the plate's cut line, travelled downward, asks of the
// mill: which stretches are cleared, which corners eased or relieved.
func (p *Plate) cutLine(down geom.Path, isSeat func(geom.Edge) bool, by, leg float64) {
	n := down.Edges()
	for i := range n {
		if e := down.Edge(i); !isSeat(e) {
			p.Clear = append(p.Clear, Clear{Path: pathOf(e), By: by, Before: i == 0, After: i == n-1})
		}
	}
	for _, outline := range p.Outline {
		for i := range outline.Edges() {
			in, out := outline.Edge((i+outline.Edges()-1)%outline.Edges()), outline.Edge(i)
			at := out.A
			if down.Nearest(at).Dist > geom.Tol {
				continue
			}
			last, first := tail(in), head(out)
			if m := out.At(0.5); out.Bulge < 0 && !out.Straight() && down.Nearest(m).Dist < geom.Tol && !isSeat(out) {
				p.Enter = append(p.Enter, Corner{At: m, Clear: by / 2})
			}
			switch a := turn(in.Direction(1), out.Direction(0)); {
			case a > soft:
				p.Ease = append(p.Ease, Ease{At: at, Leg: leg})
			case a < -soft:
				c := Corner{At: at}
				switch {
				case !isSeat(last) && !isSeat(first):
					c.Clear = by / 2
				case isSeat(last) && isSeat(first):
					c.Clear = by / 4 // the cutter's corner must not touch before its edges
				}
				p.Enter = append(p.Enter, c)
			case isSeat(last) && !isSeat(first) && out.Bulge > 0, isSeat(first) && !isSeat(last) && in.Bulge > 0:
				// The cutter's own rounding would come against the seat's end as soon
				// as the cutter moves along the seat.
				p.Ease = append(p.Ease, Ease{At: at, Leg: leg, Depth: by, After: isSeat(first)})
			}
		}
	}
}

// head and tail are the first and the last tenth of a millimetre of an edge, or all
// of it: an edge of the outline may be a seat at one end only.
func head(e geom.Edge) geom.Edge {
	if l := e.Length(); l > 0.1 {
		e, _ = e.Split(0.1 / l)
	}
	return e
}

func tail(e geom.Edge) geom.Edge {
	if l := e.Length(); l > 0.1 {
		_, e = e.Split(1 - 0.1/l)
	}
	return e
}

// soft is the turn in radians below which two edges count as smooth: 3°.
const soft = 3 * math.Pi / 180

// crossbar is the flat bar that bridges the fence opening, notched from its
// front so that the ear's slot takes it; its back edge comes flush with the
// ear's face.
func crossbar(r BlockRequest) Plate {
	half := r.Table.FenceWidth/2 + barRest
	notch := (r.Thick + lapLoose) / 2
	bottom := barDepth/2 - lapRoom/2
	p := Plate{Kind: "block", Part: "crossbar", Mark: r.Mark}
	v := []geom.Vertex{geom.V(0, half), geom.V(0, -half)}
	v = append(v, round(barDepth, -half, rounding, 0)...)
	v = append(v, geom.V(barDepth, -notch), geom.V(bottom, -notch), geom.V(bottom, notch), geom.V(barDepth, notch))
	v = append(v, round(barDepth, half, rounding, 1)...)
	p.Outline = geom.Region{{V: v, Closed: true}}
	p.Seats = []Seat{{Name: "crossbar back", Path: line(0, half, 0, -half)}}
	for _, y := range [2]float64{-notch, notch} {
		p.Enter = append(p.Enter, Corner{At: orb.Point{bottom, y}})
	}
	p.Drill = []geom.Path{geom.Circle(orb.Point{barDepth / 2, half - holeRoom - holeSize/2 - 2}, holeSize/2)}
	p.Engrave = []geom.Path{line(2, 0, bottom-3, 0)} // the spindle's plane
	p.mark(box{4, 8, barDepth - 4, half - 2*holeRoom - holeSize - 4}, true)
	return p
}

// ghost is the cutter in place, to be drawn only.
func ghost(p joint.Pass) []geom.Path {
	g := []geom.Path{p.Profile()}
	if b := p.Body(); len(b.V) > 1 {
		g = append(g, b)
	}
	return g
}

// round is a convex corner of a counter-clockwise outline at (x, y), rounded by
// r: quarter 0 turns from running right to running up, 1 from up to left.
func round(x, y, r float64, quarter int) []geom.Vertex {
	b := math.Tan(math.Pi / 8)
	if quarter == 0 {
		return []geom.Vertex{geom.B(x-r, y, b), geom.V(x, y+r)}
	}
	return []geom.Vertex{geom.B(x, y-r, b), geom.V(x-r, y)}
}

func line(x0, y0, x1, y1 float64) geom.Path {
	return geom.Path{V: []geom.Vertex{geom.V(x0, y0), geom.V(x1, y1)}}
}

func pathOf(e geom.Edge) geom.Path {
	return geom.Path{V: []geom.Vertex{{Point: e.A, Bulge: e.Bulge}, {Point: e.B}}}
}
