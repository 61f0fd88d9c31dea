package plate

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/joint"
)

// A Pocket is ground that is cleared to a floor part-way through the sheet, from
// the face that lies up when the plate is milled.
type Pocket struct {
	Floor geom.Region // may reach beyond the outline, where the pocket is open
	Depth float64     // mm, of the floor below the upper face
}

// A Hollow is an opening of the outline that must come free to its last corner: at
// corners that the mill cannot enter it cuts more, but no farther beyond than Stray.
type Hollow struct {
	Region geom.Region
	Stray  float64 // mm
}

// A Room is ground in which something turns: no part of the plate may come nearer
// to it than By.
type Room struct {
	Swept geom.Region
	By    float64 // mm
	Depth float64 // mm below the upper face, to which it holds; 0 = all through
}

// openRim is how far in mm more than the mill's diameter an open pocket goes on past
// the plate's edge. Where its wall meets the end at the angle a, the mill leaves the
// wall at the height 2r·cos²(a/2) over the end: below the plate's edge for any angle.
const openRim = 0.2

// millable is the ground that a disc of radius r clears and that holds all of o: o
// itself but for its corners, at each of which the disc goes on straight from where
// it is stopped until its rim touches what is farthest. It is false where the disc
// finds no room at all.
func millable(o geom.Region, r float64) (geom.Region, bool, error) {
	for range 8 {
		centres, err := parallel(o, -r)
		if err != nil {
			return nil, false, err
		}
		if len(centres) == 0 {
			return nil, false, nil
		}
		swept, err := parallel(centres, r)
		if err != nil {
			return nil, false, err
		}
		ways := []geom.Region{o}
		for _, m := range geom.Difference(o, swept) {
			if m.Area() < 0 {
				continue
			}
			q, d, from := farthest(m, centres)
			if d <= r+sliver {
				continue
			}
			k := r / d
			to := orb.Point{q[0] + k*(from[0]-q[0]), q[1] + k*(from[1]-q[1])}
			ways = append(ways, geom.Region{geom.Slot(from, to, 2*r)})
		}
		ways = append(ways, bridges(centres, r)...)
		if len(ways) == 1 {
			return o, true, nil
		}
		o = geom.Union(ways...)
	}
	return o, true, nil // what is still not reached is found when rooms are checked
}

// bridges join the grounds of the disc's centre that are too small to lower a mill
// in to their nearest neighbours.
func bridges(centres geom.Region, r float64) (out []geom.Region) {
	all := outers(centres)
	for i, p := range all {
		if p.Length() >= roomToRamp {
			continue
		}
		others := append(append([]geom.Path(nil), all[:i]...), all[i+1:]...)
		if len(others) == 0 {
			continue
		}
		_, at, on := geom.Closest([]geom.Path{p}, others)
		out = append(out, geom.Region{geom.Slot(at, on, 2*r)})
	}
	return out
}

// roomToRamp is the way in mm round a ground of the mill's centre from which on the
// mill can be ramped down there. Common practice, no source.
const roomToRamp = 6.0

// sliver is how far in mm a corner may stand out of the mill's reach and need no
// relief: what fitted arcs leave where they meet.
const sliver = 5e-4

// farthest is the place of a path that is farthest from the centres, how far, and
// the centre nearest to it.
func farthest(p geom.Path, centres geom.Region) (q orb.Point, d float64, from orb.Point) {
	d = math.Inf(-1)
	for i := range p.Edges() {
		for _, t := range [3]float64{0, 0.25, 0.5} {
			at := p.Edge(i).At(t)
			if n := geom.Nearest(centres, at); n.Dist > d {
				q, d, from = at, n.Dist, n.At
			}
		}
	}
	return q, d, from
}

// hollowed is the plate less what must come free of it.
func (p *Plate) hollowed(keep geom.Region, mill float64) (geom.Region, error) {
	for _, o := range p.Hollow {
		free, ok, err := millable(o.Region, mill/2+reliefSlack)
		if err != nil {
			return nil, err
		}
		if !ok {
			return nil, &TooBig{Part: p.Part, Mill: mill, Why: joint.Saying("it does not go into the opening")}
		}
		if d, at := geom.FarthestOf(free, o.Region, 1e-3); d > o.Stray {
			return nil, &TooBig{Part: p.Part, Mill: mill, Why: joint.Saying("to free the corner near (%s, %s) it cuts %s too much; want at most %s", at[0], at[1], d, o.Stray)}
		}
		keep = geom.Difference(keep, free)
	}
	return keep, nil
}

// floors are the pockets as the mill clears them, over openings too, ended a little
// beyond the plate.
func (c *Cut) floors() error {
	for _, k := range c.Pockets {
		free, ok, err := millable(k.Floor, c.Mill/2+reliefSlack)
		if err != nil {
			return err
		}
		if !ok {
			return &TooBig{Part: c.Part, Mill: c.Mill, Why: joint.Saying("it does not go into the pocket")}
		}
		b := c.Outline.Bound().Pad(c.Mill + openRim)
		ends := geom.Region{geom.Rect(b.Min[0], b.Min[1], b.Max[0], b.Max[1])}
		c.Floors = append(c.Floors, Pocket{geom.Intersection(free, ends), k.Depth})
	}
	return nil
}

// rooms checks that what is left of the plate stands clear of what turns in it.
func (c *Cut) rooms() error {
	for _, r := range c.Rooms {
		left := c.Wall
		for _, k := range c.Floors {
			if r.Depth > 0 && k.Depth >= r.Depth-geom.Tol {
				left = geom.Difference(left, k.Floor)
			}
		}
		d, at, _ := geom.Closest(left, r.Swept)
		if meets := geom.Intersection(left, r.Swept); len(meets) > 0 {
			d, at = 0, meets[0].Start()
		}
		if !(d >= r.By-geom.Tol) {
			return &TooBig{Part: c.Part, Mill: c.Mill, Why: joint.Saying("what it leaves at (%s, %s) stands %s from the cutter; want %s", at[0], at[1], d, r.By)}
		}
	}
	return nil
}
