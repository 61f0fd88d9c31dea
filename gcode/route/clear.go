package route

import (
	"github.com/paulmach/orb"

	"blockwright/geom"
)

// separate refuses a sheet on which roughing one plate cuts into another: the
// mill's centre stays its radius away from every other plate's wall.
func separate(jobs []Job, ls []*levels, t *Tool) error {
	rho := t.Diameter / 2
	for i := range jobs {
		lanes := append(append([]geom.Path(nil), ls[i].exact...), ls[i].rungs[0].loops...)
		lanes = append(lanes, ls[i].wide...)
		box := geom.Bound(lanes).Pad(rho)
		for k := range jobs {
			if i == k || !box.Intersects(jobs[k].Wall.Bound()) {
				continue
			}
			d, at, _ := geom.Closest(lanes, jobs[k].Wall)
			for _, l := range lanes {
				if q := l.V[0].Point; outside(ls[k].wallIndex, q) < 0 {
					d, at = 0, q
				}
			}
			if d < rho-geom.Tol {
				return refuse("%s and %s are too near: at X %s Y %s the mill's centre comes within %s of the wall, %s is wanted",
					jobs[i].title(i), jobs[k].title(k), at[0], at[1], d, rho)
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
