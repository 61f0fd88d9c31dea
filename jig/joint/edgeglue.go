package joint

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// The edge-glue joint: both boards flat, the second other face down, laid edge to
// edge by a half turn. The profile's centre stands on the centre line of the
// stock, H = T/2 - hc. The fence is free: it is set so that the least cut depth
// over the thickness is the skim. Without skim both fence halves stay in line;
// with it the outfeed half stands forward by as much.

func glueSpan(r Request, p geom.Path) span { return fixedSpan(r.Stock, p) }

func glueCentred(r Request, p geom.Path, c orb.Point) (height, fence float64) {
	return r.Stock/2 - c[1], leastRadius(p.Between(c[1]-r.Stock/2, c[1]+r.Stock/2)) - r.Skim
}

// glueFlush holds the faces in one plane, the cut lines as deep in each other as
// the centres say.
func glueFlush(s *Setting) orb.Point {
	return orb.Point{centreOnCentre(s)[0], s.Passes[0].Stock}
}

// leastRadius of a stretch of the profile.
func leastRadius(p geom.Path) float64 {
	r := math.Inf(1)
	for i := range p.Edges() {
		r = math.Min(r, p.Edge(i).LeastX()[0])
	}
	return r
}

// glueLimits: any stock that the edge covers. Less than a web on each side of the
// centre line is no joint to rely on: common practice, no source.
func glueLimits(s *Setting) {
	lo, hi := heights(s.Request.Cutter.Profile)
	s.Range = [2]float64{0, 2 * math.Min(s.Centre[1]-lo, hi-s.Centre[1])}
	s.Usable = [2]float64{math.Min(2*s.Request.Web, s.Range[1]), s.Range[1]}
}

func edgeGlue(s *Setting) error {
	r, c := s.Request, s.Request.Cutter
	if r.Other > 0 && math.Abs(r.Other-r.Stock) > geom.Tol {
		return &BadRequest{"other", lengthy("%s", r.Other), lengthy("the stock's thickness, %s: the faces of a panel are flush", r.Stock)}
	}
	if r.Land > 0 {
		return &BadRequest{"land", lengthy("%s", r.Land), plainly("none: this joint has no tips")}
	}
	p := c.Profile.Merge()
	if r.Stock > s.Range[1]+geom.Tol {
		return &OutOfRange{Cutter: c.Handle, Joint: s.Joint, Stock: r.Stock, Range: s.Range, Usable: s.Usable}
	}
	h, d := glueCentred(r, p, s.Centre)
	s.Passes = []Pass{
		newPass("flat", Flat, c, r.Stock, h, d),
		newPass("turned", Flat, c, r.Stock, h, d),
	}
	if r.Stock < s.Usable[0]-geom.Tol {
		s.warn("stock %s is thin for this cutter; better %s or more", r.Stock, s.Usable[0])
	}
	return nil
}
