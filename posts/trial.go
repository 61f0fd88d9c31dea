package posts

import (
	"blockwright/gcode/route"
	"blockwright/geom"
)

// pastCorner is a stretch in mm at the beginning of a side that a tab does not fit in.
const pastCorner = 3.0

// meetAsComes plans the trial's sides to be met as a way round outside corners comes
// to them, which is what [adjust.FromTrial] reckons with: were every side approached
// from the waste, lost motion would look like a thin mill. After a tab or a lead the
// mill comes from the waste, so on the stretch of an outside from its corner to the
// place that calipers touch there is neither.
func meetAsComes(jobs []route.Job, tool *route.Tool) {
	tool.Overtravel = 0
	for i := range jobs {
		j := &jobs[i]
		for _, s := range j.Keep {
			mid := s.Point(s.AtLength(s.Length() / 2))
			n := geom.Nearest(j.Wall, mid)
			if j.Wall[n.Path].Area() < 0 {
				continue
			}
			e := j.Wall[n.Path].Edge(n.Edge)
			way := geom.Path{V: []geom.Vertex{{Point: e.A}, {Point: s.Start()}}}
			if j.Climb { // the wall is travelled against its sense
				way = geom.Path{V: []geom.Vertex{{Point: s.End()}, {Point: e.B}}}
			}
			// Just past the corner there is room for neither anyway, and the tab before
			// the corner keeps its distance.
			if l := way.Length(); j.Climb {
				way = way.Cut(0, l-pastCorner)
			} else {
				way = way.Cut(pastCorner, l)
			}
			j.AsComes = append(j.AsComes, way)
		}
	}
}
