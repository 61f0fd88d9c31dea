package cutter

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// Chain joins the loose ends of paths that lie no farther apart than gap mm into
// longer paths, in any order and sense, arcs kept. Where two ends meet, both go half
// way; a path whose own ends meet is closed. It fails where three ends meet: which
// two belong together nobody can tell.
func Chain(paths []geom.Path, gap float64) ([]geom.Path, error) {
	gap = math.Max(gap, geom.Tol)
	var loose, out []geom.Path
	for _, p := range paths {
		switch {
		case len(p.V) < 2:
		case p.Closed:
			out = append(out, p.Clone())
		default:
			loose = append(loose, p.Clone())
		}
	}
	if len(loose) > PointsMax {
		return nil, fmt.Errorf("%d loose pieces; want at most %d", len(loose), PointsMax)
	}
	if err := forks(loose, gap); err != nil {
		return nil, err
	}
	for len(loose) > 0 {
		p := loose[0]
		loose = loose[1:]
		for again := true; again; {
			again = false
			for i, q := range loose {
				joined, ok := joinEnds(p, q, gap)
				if !ok {
					continue
				}
				p = joined
				loose = append(loose[:i], loose[i+1:]...)
				again = true
				break
			}
		}
		if n := len(p.V); n > 2 && apart(p.Start(), p.End()) <= gap {
			p.V[0].Point = middle(p.Start(), p.End())
			p.V, p.Closed = p.V[:n-1], true
		}
		out = append(out, p)
	}
	return out, nil
}

// forks finds a place where more than two ends meet.
func forks(loose []geom.Path, gap float64) error {
	var ends []orb.Point
	for _, p := range loose {
		ends = append(ends, p.Start(), p.End())
	}
	for i, a := range ends {
		n := 0
		for k, b := range ends {
			if k != i && apart(a, b) <= gap {
				n++
			}
		}
		if n > 1 {
			return fmt.Errorf("%d loose ends meet near (%.4f, %.4f) within %g mm; want two: a smaller --gap, or a drawing of the profile alone", n+1, a[0], a[1], gap)
		}
	}
	return nil
}

// joinEnds is p carried on by q, where one's end meets the other's.
func joinEnds(p, q geom.Path, gap float64) (geom.Path, bool) {
	switch {
	case apart(p.End(), q.Start()) <= gap:
	case apart(p.End(), q.End()) <= gap:
		q = q.Reverse()
	case apart(p.Start(), q.End()) <= gap:
		p, q = q, p
	case apart(p.Start(), q.Start()) <= gap:
		p, q = q.Reverse(), p
	default:
		return p, false
	}
	n := len(p.V) - 1
	q.V[0].Point = middle(p.V[n].Point, q.V[0].Point)
	return geom.Path{V: append(p.V[:n:n], q.V...)}, true
}

func apart(a, b orb.Point) float64 { return math.Hypot(b[0]-a[0], b[1]-a[1]) }

func middle(a, b orb.Point) orb.Point {
	if apart(a, b) < 1e-9 {
		return a
	}
	return orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
}
