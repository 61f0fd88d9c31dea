package joint

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/cutter"
)

// closeFit is the distance in mm within which edges of a file with rounded
// numbers, or of a traced cutter, count as touching.
const closeFit = 0.02

// apart is the distance in mm under which two centres are one. Fingers finer than
// that are none that a router cutter has.
const apart = 0.8

// loose is the distance in mm within which edges of a traced cutter count as touching at
// most, however unsure it is: more would be no fit.
const loose = 0.2

// centreOf is the point about which a half turn carries the profile onto itself,
// and by how much it misses there. Where the halves do not match and wood would
// run into wood, it is the centre of the bearing edges instead, if there are any.
// Of a measured profile that is judged by what was fitted to it: its own points
// run into one another by their noise, a standard deviation in mm, and its shortest edges bear on nothing.
//
// A profile that was traced fits itself no closer than it is sure. Of several centres
// about which it fits so it is the one nearest the middle of its height: fingers of
// one pitch have several, and that one holds the most stock.
func centreOf(p geom.Path, traced *cutter.Traced) (c orb.Point, residual, noise float64, err error) {
	if traced != nil {
		cs, err := geom.Centres(p, math.Min(math.Max(closeFit, 2*traced.Profile), loose), apart, centred)
		if err == nil && len(cs) > 0 {
			return cs[0], missBy(p, cs[0]), 0, nil
		}
	}
	s, err := geom.Centre(p)
	if s.Noise > 0 {
		p = s.Path
	}
	if err != nil || s.Residual <= geom.Tol || clash(p, s.Centre) <= closeFit {
		return s.Centre, s.Residual, s.Noise, err
	}
	for _, tol := range [2]float64{geom.Tol, closeFit} {
		if b, ok := bearingCentre(p, tol); ok {
			return b, missBy(p, b), s.Noise, nil
		}
	}
	return s.Centre, s.Residual, s.Noise, nil
}

// turnAbout gives the part of the profile at the heights that it shares with its
// half turn about c, and the half turn of that, upward and taken on at its ends.
func turnAbout(p geom.Path, c orb.Point) (part, turned geom.Path) {
	lo, hi := heights(p)
	half := math.Min(c[1]-lo, hi-c[1])
	part = p.Between(c[1]-half, c[1]+half)
	return part, prolong(part.Move(geom.HalfTurn(c)).Reverse(), hi-lo)
}

// clash is how deep wood would run into wood with the profile turned about c.
func clash(p geom.Path, c orb.Point) float64 {
	part, turned := turnAbout(p, c)
	left, _ := sides(part, turned)
	return deepest(left, turned)
}

// missBy is how far the half turn about c misses the profile.
func missBy(p geom.Path, c orb.Point) float64 {
	part, turned := turnAbout(p, c)
	d, _ := geom.Farthest(part, []geom.Path{turned}, seam)
	return d
}
