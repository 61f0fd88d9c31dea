package route

import (
	"fmt"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// separate refuses a sheet on which roughing one plate cuts into another.
func separate(jobs []Job, ls []*levels, t *Tool) error {
	rho := t.Diameter / 2
	for i := range jobs {
		lanes := append(append([]geom.Path(nil), ls[i].exact...), ls[i].rungs[0].loops...)
		lanes = append(lanes, ls[i].wide...)
		for k := range jobs {
			if i == k {
				continue
			}
			for _, l := range lanes {
				if at, d, ok := clears(l, jobs[k].Wall.Bound(), ls[k].wallIndex, rho); !ok {
					return fmt.Errorf("route: %s and %s are too near: at X %.3f Y %.3f the mill's centre comes within %.3f mm of the wall, %.3f is wanted",
						jobs[i].title(i), jobs[k].title(k), at[0], at[1], d, rho)
				}
			}
		}
	}
	return nil
}

// outside is the distance from a plate's wall to q, negative in the plate.
func outside(wall *geom.Index, q orb.Point) float64 {
	d := wall.Nearest(q).Dist
	if wall.Winding(q) != 0 {
		return -d
	}
	return d
}

// clears tells whether every point of p is outside the wall by need mm or more,
// give or take geom.Tol; if not, where it is not and what it is there. Along an
// edge the distance changes by no more than the way.
func clears(p geom.Path, box orb.Bound, wall *geom.Index, need float64) (orb.Point, float64, bool) {
	if !p.Bound().Pad(need + geom.Tol).Intersects(box) {
		return orb.Point{}, 0, true
	}
	for i := range p.Edges() {
		if at, d, ok := edgeClears(p.Edge(i), wall, need); !ok {
			return at, d, false
		}
	}
	return orb.Point{}, 0, true
}

func edgeClears(e geom.Edge, wall *geom.Index, need float64) (orb.Point, float64, bool) {
	m := e.At(0.5)
	d, l := outside(wall, m), e.Length()
	switch {
	case d < need-geom.Tol:
		return m, d, false
	case d-l/2 >= need-geom.Tol || l < 1e-3:
		return m, d, true
	}
	a, b := e.Split(0.5)
	if at, d, ok := edgeClears(a, wall, need); !ok {
		return at, d, false
	}
	return edgeClears(b, wall, need)
}
