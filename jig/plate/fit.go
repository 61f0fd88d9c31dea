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

func near(a, b orb.Point) bool { return math.Hypot(a[0]-b[0], a[1]-b[1]) < geom.Tol }
