package plate

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/joint"
)

// reliefSlack is how much larger in mm than the mill's a relief's radius is, so
// that the mill passes into it and is not wedged. Common practice, no source.
const reliefSlack = 0.05

// TooBig says that an end mill cannot cut a plate.
type TooBig struct {
	Part    string
	Mill    float64 // diameter tried, mm
	Largest float64 // diameter of the largest end mill that would do, mm; 0 = none
	Why     joint.Message
}

// Message is the error as a sentence for any unit.
func (e *TooBig) Message() joint.Message {
	m := joint.Saying("%s: an end mill of %s cannot cut it: ", e.Part, e.Mill)
	end := joint.Saying("; none would do: try another kind of fixture")
	if e.Largest > 0 {
		end = joint.Saying("; the largest that would do cuts %s: put one into shop.toml, or make another kind of fixture", e.Largest)
	}
	m.Text += e.Why.Text + end.Text
	m.Lengths = append(append(m.Lengths, e.Why.Lengths...), end.Lengths...)
	return m
}

func (e *TooBig) Error() string { return e.Message().String() }

// Fit works out what an end mill will leave of the plate, the wall, trying the
// diameters in the order given (largest first, mm) and taking the first that
// will do. A mill will do if it reaches every corner that must be entered, from
// outside, and leaves every seat at least [MinSeat] long.
//
// The wall is the outline less the clearances, the eased tips and the reliefs,
// closed by the mill's radius: what a disc of that radius cannot reach stays.
//
// Where none will do the error is a [*TooBig] for the last diameter tried, which
// names the largest that would.
func Fit(p Plate, mills []float64) (Cut, error) {
	cuts, err := FitAll([][]Plate{{p}}, mills)
	if err != nil {
		return Cut{}, err
	}
	return cuts[0], nil
}

// FitAll fits a fixture of several plates with one mill. Of the designs, best
// first, the first is taken that one of the mills can cut, the largest mill
// first. It fails as [Fit] does.
func FitAll(designs [][]Plate, mills []float64) ([]Cut, error) {
	if len(mills) == 0 {
		return nil, fmt.Errorf("no end mill to fit the plates for")
	}
	var first *TooBig
	all := make([][]shrunk, len(designs))
	for i, plates := range designs {
		for _, p := range plates {
			all[i] = append(all[i], shrunk{p, shrink(p)})
		}
		for _, d := range mills {
			cuts, err := fitEach(all[i], d)
			if err == nil {
				return cuts, nil
			}
			var big *TooBig
			if !errors.As(err, &big) {
				return nil, err
			}
			if first == nil || big.Mill < first.Mill {
				first = big
			}
		}
	}
	if first == nil {
		return nil, fmt.Errorf("no design to fit")
	}
	for _, plates := range all {
		first.Largest = math.Max(first.Largest, largest(plates, mills[len(mills)-1]))
	}
	return nil, first
}

// A shrunk plate is one with what may stay of it before the mill comes to it,
// whatever the mill.
type shrunk struct {
	Plate
	keep geom.Region
}

func fitEach(plates []shrunk, d float64) ([]Cut, error) {
	var cuts []Cut
	for _, p := range plates {
		c, err := fit(p, d)
		if err != nil {
			return nil, err
		}
		cuts = append(cuts, c)
	}
	return cuts, nil
}

// largest is the diameter below d of the largest end mill that would do, to a
// twentieth of a millimetre; 0 where not even one of 0.5 mm would.
func largest(plates []shrunk, d float64) float64 {
	for k := int(math.Ceil(d/0.05)) - 1; k >= 10; k-- {
		if _, err := fitEach(plates, float64(k)*0.05); err == nil {
			return float64(k) * 0.05
		}
	}
	return 0
}

func fit(s shrunk, mill float64) (Cut, error) {
	p, keep := s.Plate, s.keep
	if !(mill > 0) {
		return Cut{}, fmt.Errorf("%s: an end mill of %g mm; want more than 0", p.Part, mill)
	}
	for _, b := range p.Drill {
		if w := b.Bound().Max[0] - b.Bound().Min[0]; w < mill+1-geom.Tol {
			return Cut{}, &TooBig{Part: p.Part, Mill: mill, Why: joint.Saying("a bore of %s must be at least %s wider than the mill", w, 1.0)}
		}
	}
	keep, err := p.hollowed(keep, mill)
	if err != nil {
		return Cut{}, err
	}
	wall, centres, err := reach(keep, mill/2)
	if err != nil {
		return Cut{}, err
	}
	var reliefs []geom.Region
	for _, c := range p.Enter {
		if wall.SignedDist(c.At) >= c.Clear-geom.Tol && !onSeat(p, c.At) {
			continue
		}
		if r, ok := relief(p, c, mill/2); ok {
			reliefs = append(reliefs, geom.Region{r})
		}
	}
	if len(reliefs) > 0 {
		keep = geom.Difference(keep, reliefs...)
		if wall, centres, err = reach(keep, mill/2); err != nil {
			return Cut{}, err
		}
	}
	if centres != len(p.Outline) {
		return Cut{}, &TooBig{Part: p.Part, Mill: mill, Why: joint.Saying("it does not reach every groove from outside")}
	}
	if whole := withoutCrumbs(wall, len(outers(p.Outline))); len(whole) < len(wall) {
		// The mill goes where the crumb was, and may then leave more elsewhere.
		if wall, _, err = reach(whole, mill/2); err != nil {
			return Cut{}, err
		}
	}
	c := Cut{Plate: p, Mill: mill, Wall: wall}
	if err := c.check(); err != nil {
		return Cut{}, err
	}
	if err := c.floors(); err != nil {
		return Cut{}, err
	}
	if err := c.rooms(); err != nil {
		return Cut{}, err
	}
	return c, nil
}

// withoutCrumbs is the wall less what stands apart from its n largest pieces, such
// as a tip between two reliefs that meet: it would fall off, and no tab holds it.
// What it carried of a seat is missed when the seats are checked.
func withoutCrumbs(wall geom.Region, n int) geom.Region {
	pieces := outers(wall)
	if len(pieces) <= n {
		return wall
	}
	slices.SortStableFunc(pieces, func(a, b geom.Path) int { return cmp.Compare(b.Area(), a.Area()) })
	whole := slices.Clone(geom.Region(pieces[:n]))
	for _, p := range wall {
		if p.Area() < 0 && geom.Region(pieces[:n]).SignedDist(p.V[0].Point) < geom.Tol {
			whole = append(whole, p)
		}
	}
	return whole
}

// outers are the outer boundaries of a region's pieces.
func outers(r geom.Region) (out []geom.Path) {
	for _, p := range r {
		if p.Area() > 0 {
			out = append(out, p)
		}
	}
	return out
}

// shrink is the outline less clearances and eased tips.
func shrink(p Plate) geom.Region {
	var waste []geom.Region
	for i, c := range p.Clear {
		for k := range c.Path.Edges() {
			waste = append(waste, geom.Region{strip(c.Path.Edge(k), c.By)})
		}
		if c.Before {
			e := c.Path.Edge(0)
			waste = append(waste, geom.Region{strip(onward(e.A, e.Direction(0), -3*c.By), c.By)})
		}
		if c.After {
			e := c.Path.Edge(c.Path.Edges() - 1)
			waste = append(waste, geom.Region{strip(onward(e.B, e.Direction(1), 3*c.By), c.By)})
		}
		if i > 0 {
			// Between two cleared edges that meet at an inside corner.
			if a := p.Clear[i-1]; a.Path.End() == c.Path.Start() {
				waste = append(waste, geom.Region{geom.Circle(c.Path.Start(), math.Min(a.By, c.By))})
			}
		}
	}
	for _, e := range p.Ease {
		if tip, ok := tipAt(p.Outline, e); ok {
			waste = append(waste, geom.Region{tip})
		}
	}
	return geom.Difference(p.Outline, waste...)
}

// onward is the straight edge of the given length through the point; a negative
// length leads up to it.
func onward(at, d orb.Point, length float64) geom.Edge {
	far := orb.Point{at[0] + length*d[0], at[1] + length*d[1]}
	if length < 0 {
		return geom.Edge{A: far, B: at}
	}
	return geom.Edge{A: at, B: far}
}

// strip is the ground between an edge and its parallel at the distance by on its
// left.
func strip(e geom.Edge, by float64) geom.Path {
	side := func(t float64) orb.Point {
		q, d := e.At(t), e.Direction(t)
		return orb.Point{q[0] - by*d[1], q[1] + by*d[0]}
	}
	bulge := e.Bulge
	if !e.Straight() {
		// Left of a counter-clockwise arc is its centre: the parallel there
		// vanishes and turns round where it is farther than the radius.
		if _, r := e.Arc(); bulge > 0 && by >= r {
			c, _ := e.Arc()
			return geom.Path{V: []geom.Vertex{{Point: e.A, Bulge: bulge}, {Point: e.B}, {Point: c}}, Closed: true}
		}
	} else {
		bulge = 0
	}
	return geom.Path{V: []geom.Vertex{
		{Point: e.A, Bulge: bulge}, {Point: e.B},
		{Point: side(1), Bulge: -bulge}, {Point: side(0)},
	}, Closed: true}
}

// tipAt is the ground to cut off at a convex corner: from a leg before it to a
// leg after it, and beyond the tip into the waste.
func tipAt(outline geom.Region, e Ease) (geom.Path, bool) {
	in, out, ok := cornerAt(outline, e.At)
	if !ok {
		return geom.Path{}, false
	}
	if e.Depth > 0 {
		d := out.Direction(0)
		deep := orb.Point{e.At[0] - e.Depth*d[1], e.At[1] + e.Depth*d[0]}
		if e.After {
			at := out.At(math.Min(1, e.Leg/out.Length()))
			return geom.Path{V: []geom.Vertex{{Point: e.At}, {Point: at}, {Point: deep}}, Closed: true}, true
		}
		at := in.At(1 - math.Min(1, e.Leg/in.Length()))
		return geom.Path{V: []geom.Vertex{{Point: at}, {Point: e.At}, {Point: deep}}, Closed: true}, true
	}
	leg := func(edge geom.Edge) float64 { return math.Min(1, math.Min(e.Leg, 0.45*edge.Length())/edge.Length()) }
	a, b := in.At(1-leg(in)), out.At(leg(out))
	di, do := in.Direction(1), out.Direction(0)
	away := orb.Point{di[0] - do[0], di[1] - do[1]} // points out of the tip
	l := math.Hypot(away[0], away[1])
	apex := orb.Point{e.At[0] + away[0]/l*0.1, e.At[1] + away[1]/l*0.1}
	return geom.Path{V: []geom.Vertex{{Point: a}, {Point: apex}, {Point: b}}, Closed: true}, true
}

// cornerAt finds the two edges that meet at a vertex of the outline.
func cornerAt(outline geom.Region, at orb.Point) (in, out geom.Edge, ok bool) {
	for _, p := range outline {
		n := p.Edges()
		for i := range n {
			if out = p.Edge(i); near(out.A, at) {
				return p.Edge((i + n - 1) % n), out, true
			}
		}
	}
	return in, out, false
}

// offset is where this package takes every parallel region from. A variable, so that
// a test can put a faulty one in its place and see that no wrong wall passes.
var offset = geom.Region.Offset

// reach is what a disc of radius r, moved everywhere it can go, leaves standing
// of keep: keep with its inside corners filleted by r. It also counts the loops
// on which the disc's centre can run.
//
// The proof of a program takes the wall for the truth, so the offsets are held
// against distances here: an error names the place at which one is wrong.
func reach(keep geom.Region, r float64) (wall geom.Region, loops int, err error) {
	grown, err := parallel(keep, r)
	if err != nil {
		return nil, 0, err
	}
	if wall, err = parallel(grown, -r); err != nil {
		return nil, 0, err
	}
	// The disc touches the wall wherever it can go, so no loop is missing.
	return wall, len(grown), grown.Parallel(wall, r)
}

// parallel is the region's offset, every place of which lies d mm from the region.
func parallel(r geom.Region, d float64) (geom.Region, error) {
	out, err := offset(r, d)
	if err != nil {
		return nil, err
	}
	return out, out.Parallel(r, d)
}

// onSeat tells whether a seat ends at the point.
func onSeat(p Plate, at orb.Point) bool {
	for _, s := range p.Seats {
		for _, q := range [2]orb.Point{s.Path.Start(), s.Path.End()} {
			if near(q, at) {
				return true
			}
		}
	}
	return false
}

// relief is the ground to cut at an inside corner: the way of a disc from where
// both edges stop it to where it frees the corner. Beside a seat it runs along
// the seat and ends tangent to it just past the corner, so that the seat loses
// nothing. Where neither edge or both are seats it runs down the bisector, or
// along one of the edges where on the bisector it would cut into a seat; and
// beyond the corner by twice the clearance that the corner asks for, or just by
// that, as the seats allow. An arc that the mill cannot enter counts as a corner
// at its middle.
func relief(p Plate, c Corner, r float64) (geom.Path, bool) {
	r += reliefSlack
	best, most := geom.Path{}, math.Inf(-1)
	for _, deeper := range [2]float64{2 * c.Clear, c.Clear} {
		for _, w := range ways(p, c, r) {
			back := func(q orb.Point) orb.Point { return orb.Point{q[0] - deeper*w.n[0], q[1] - deeper*w.n[1]} }
			from, to := back(w.from), back(w.to)
			centres := geom.Path{V: []geom.Vertex{{Point: from}, {Point: to}}}
			room := math.Inf(1)
			for _, s := range p.Seats {
				seat := eased(p, s.Path)
				room = math.Min(room, math.Min(seat.Nearest(from).Dist, seat.Nearest(to).Dist)-r)
				room = math.Min(room, math.Min(centres.Nearest(seat.Start()).Dist, centres.Nearest(seat.End()).Dist)-r)
			}
			if room > most+geom.Tol {
				best, most = geom.Slot(from, to, 2*r), room
			}
			if room >= -geom.Tol {
				return best, true
			}
		}
	}
	return best, len(best.V) > 0
}

// A way is that of a relieving disc's centre; n points from the material into the
// waste, against the depth.
type way struct{ from, to, n orb.Point }

// past is the way carried on beyond the corner, against u which points from the
// corner along the seat, so that an error of the milled offset does not bring the
// cutter's corner against the relief before the seat.
func (w way) past(u orb.Point) way {
	w.to = orb.Point{w.to[0] - pastCorner*u[0], w.to[1] - pastCorner*u[1]}
	return w
}

// pastCorner is half the usual clearance in mm.
const pastCorner = 0.2

// ways are those that free the corner for a disc of radius r, best first.
func ways(p Plate, c Corner, r float64) []way {
	for _, outline := range p.Outline {
		for i, v := range outline.V {
			if !near(v.Point, c.At) {
				continue
			}
			corner, ok := outline.Corner(i)
			if !ok {
				return nil
			}
			return cornerWays(p, corner, outline, i, r)
		}
	}
	for _, outline := range p.Outline {
		if q := outline.Nearest(c.At); q.Dist < geom.Tol {
			n := outward(outline.Edge(q.Edge).Direction(q.T))
			at := orb.Point{c.At[0] + r*n[0], c.At[1] + r*n[1]}
			return []way{{at, at, n}}
		}
	}
	return nil
}

func cornerWays(p Plate, c geom.Corner, outline geom.Path, i int, r float64) []way {
	mid := func(disc geom.Path) orb.Point {
		a, b := disc.V[0].Point, disc.V[1].Point // a circle of two halves
		return orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
	}
	toward := func(to orb.Point) orb.Point {
		return orb.Point{(to[0] - c.At[0]) / r, (to[1] - c.At[1]) / r}
	}
	bisector, in, out := mid(c.Bisector(r)), mid(c.Along(r, false)), mid(c.Along(r, true))
	b := toward(bisector)
	k := r / math.Sin(c.Angle/2)
	fillet := orb.Point{c.At[0] + k*b[0], c.At[1] + k*b[1]}
	n := len(outline.V)
	seatIn, seatOut := isSeat(p, tail(outline.Edge((i+n-1)%n))), isSeat(p, head(outline.Edge(i)))
	alongIn, alongOut := way{fillet, in, toward(in)}, way{fillet, out, toward(out)}
	switch {
	case seatIn && !seatOut:
		return []way{alongIn.past(c.U)}
	case seatOut && !seatIn:
		return []way{alongOut.past(c.V)}
	}
	return []way{{fillet, bisector, b}, alongIn, alongOut}
}

// eased is the seat less what is cut off at its eased ends.
func eased(p Plate, seat geom.Path) geom.Path {
	l := seat.Length()
	from, to := 0.0, l
	for _, e := range p.Ease {
		if near(e.At, seat.Start()) {
			from = math.Min(e.Leg, 0.45*l)
		}
		if near(e.At, seat.End()) {
			to = l - math.Min(e.Leg, 0.45*l)
		}
	}
	return seat.Cut(from, to)
}

func near(a, b orb.Point) bool { return math.Hypot(a[0]-b[0], a[1]-b[1]) < geom.Tol }

func isSeat(p Plate, e geom.Edge) bool {
	for _, s := range p.Seats {
		if s.Path.Nearest(e.At(0.5)).Dist < geom.Tol {
			return true
		}
	}
	return false
}
