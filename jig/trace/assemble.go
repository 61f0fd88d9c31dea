package trace

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// This file answers how the pieces make one path from face to face.

// assemble makes the path of the pieces: from the lower face to the upper one,
// neighbours carried on to where they meet.
func (f *profile) assemble(thick float64) *Refusal {
	for try := 0; ; try++ {
		ps := f.reach(f.tips(f.pieces, thick), thick)
		vs, near, why := vertices(ps, thick)
		var path geom.Path
		if why == nil {
			path, near, why = pathOf(ps, vs, f.noise+f.pitch/4, false)
		}
		if why == nil {
			f.pieces, f.path = ps, path
			return nil
		}
		// Blur may make an arc of a short tongue and the corner before it, which no cut
		// leaves: what is there in truth are two pieces.
		if why.Reason == Undercut && ps[near].round && try < 6 {
			if two := ps[near].bend(f.pitch / 20); two != nil {
				f.pieces = append(append(ps[:near:near], two...), ps[near+1:]...)
				continue
			}
		}
		// Dirt at a corner may make it impossible: the shortest piece there may go.
		least := -1
		for i := max(near-2, 1); i <= near+2 && i+1 < len(ps); i++ {
			if ps[i].span() < smallest && (least < 0 || ps[i].span() < ps[least].span()) {
				least = i
			}
		}
		if least < 0 || try == 6 {
			return why
		}
		f.pieces = append(ps[:least:least], ps[least+1:]...)
		f.bridged++
	}
}

// vertices are the ends of the pieces; where they cannot be found, near is the piece
// at fault.
func vertices(ps []*piece, thick float64) (vs []orb.Point, near int, why *Refusal) {
	n := len(ps)
	vs = make([]orb.Point, n+1)
	var ok bool
	if vs[0], ok = ps[0].atHeight(0, ps[0].q[0]); !ok {
		return nil, 0, refuse(Unclear, "a cut that runs from face to face: brush it, wipe the glass and scan again", "the cut's lowest piece does not reach the face")
	}
	if vs[n], ok = ps[n-1].atHeight(thick, ps[n-1].q[len(ps[n-1].q)-1]); !ok {
		return nil, n - 1, refuse(Unclear, "a cut that runs from face to face: brush it, wipe the glass and scan again", "the cut's highest piece does not reach the face")
	}
	for i := 1; i < n; i++ {
		a, b := ps[i-1].q[len(ps[i-1].q)-1], ps[i].q[0]
		m := orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
		if vs[i], ok = meet(ps[i-1], ps[i], m); !ok || dist(vs[i], m) > 1+3*dist(a, b) {
			return nil, i, refuse(Unclear, "a clean cut in sharp focus: brush it, lay it flat on the wiped glass and scan again", "neighbouring pieces of the cut's outline do not meet near x %.2f mm, z %.2f mm", m[0], m[1])
		}
	}
	for i, p := range ps {
		p.a, p.b = vs[i], vs[i+1]
	}
	return vs, 0, nil
}

// pathOf makes the path of the pieces between their ends. A straight pass leaves
// heights that never fall: what falls by no more than slack is made level, what falls
// by more is refused, unless it is to be bent upright.
func pathOf(ps []*piece, vs []orb.Point, slack float64, bend bool) (path geom.Path, near int, why *Refusal) {
	vs = append([]orb.Point{}, vs...)
	undercut := func(at orb.Point) *Refusal {
		return refuse(Undercut, "a cut of one straight pass: is the board the right way up, and the whole of it one piece?",
			"the outline is undercut near x %.2f mm, z %.2f mm", at[0], at[1])
	}
	for i, p := range ps {
		dz := vs[i+1][1] - vs[i][1]
		l := dist(vs[i], vs[i+1])
		limit := slack + 3*p.sd*math.Sqrt(p.tau*p.cov[len(p.cov)-1])*l
		if p.round || math.Abs(dz) > limit {
			continue
		}
		if dz < 0 || math.Abs(dz) < 0.02*l {
			m := (vs[i][1] + vs[i+1][1]) / 2
			switch {
			case i == 0:
				m = vs[0][1]
			case i == len(ps)-1:
				m = vs[i+1][1]
			}
			vs[i][1], vs[i+1][1] = m, m
		}
	}
	for i := range ps {
		if d := vs[i][1] - vs[i+1][1]; d > 0 {
			if d > 4*slack && !bend {
				return geom.Path{}, i, undercut(vs[i])
			}
			vs[i+1][1] = vs[i][1]
		}
	}
	var out []geom.Vertex
	for i, p := range ps {
		if i+1 < len(vs) && dist(vs[i], vs[i+1]) < 1e-4 {
			continue
		}
		v := geom.Vertex{Point: vs[i]}
		if p.round {
			q := *p
			q.a, q.b = vs[i], vs[i+1]
			v.Bulge = q.bulge()
			if b := rising(q.a, q.b, v.Bulge); math.Abs(b-v.Bulge)*dist(q.a, q.b)/2 > 0.05 && !bend {
				return geom.Path{}, i, undercut(q.a)
			} else {
				v.Bulge = b
			}
		}
		out = append(out, v)
	}
	out = append(out, geom.Vertex{Point: vs[len(vs)-1]})
	if len(out) < 2 {
		return geom.Path{}, 0, refuse(Unclear, "a cut that runs from face to face: scan another piece", "nothing is left of the cut's outline")
	}
	path = geom.Path{V: out}
	for i := range path.Edges() {
		if e := path.Edge(i); math.Abs(e.Bulge) > 1 || math.IsNaN(e.Bulge+e.A[0]+e.A[1]) {
			return geom.Path{}, i, refuse(Unclear, "a clean cut in sharp focus: brush it, lay it flat on the wiped glass and scan again", "the cut's outline cannot be fitted near x %.2f mm, z %.2f mm", e.A[0], e.A[1])
		}
	}
	return path, 0, nil
}

// rising holds the bulge of an arc from a to b so that height never falls on it: the
// tangents at the ends, half the arc's angle off the chord, point not downward.
func rising(a, b orb.Point, bulge float64) float64 {
	chord := math.Atan2(b[1]-a[1], b[0]-a[0])
	if chord < 0 {
		chord = 0
	}
	most := math.Tan(math.Min(chord, math.Pi-chord) / 2 * (1 - 1e-9))
	return math.Copysign(math.Min(math.Abs(bulge), most), bulge)
}
