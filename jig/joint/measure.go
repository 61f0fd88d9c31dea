package joint

import (
	"math"

	"blockwright/geom"
)

// Reading is what of a pass can be measured at the table, mm. Height and fence
// themselves cannot: the cutter's h = 0 is below the table and the axis inside
// the fence.
type Reading struct {
	Top     float64 // top of the cutting edge above the table, 0 where a scan does not show it
	BodyTop float64 // top of what stands above the edge, 0 if nothing does
	Land    *Land   // the widest upright land above the table, nil without one
	Kiss    *Kiss   // nil for joints without
}

// Land is a stretch of the edge that runs parallel to the axis: a place for a
// caliper or a straightedge.
type Land struct {
	Out      float64 // how far it stands out of the fence
	From, To float64 // between these heights above the table
}

// Kiss is where a straight bar just touches the cutter in a right lock miter: on
// a piece of the stock, slid to the fence, at the height of its top face.
type Kiss struct {
	Height float64 // of the bar's lower face: the stock's thickness, less the land
	Out    float64 // of the cutter at that height: 0 for 45° tips
	Foot   float64 // of the cutter at the table: the stock's thickness, less the land
}

// Read gives what can be measured of the pass; nothing of one that is not there.
func (s *Setting) Read(pass int) Reading {
	if pass < 0 || pass >= len(s.Passes) {
		return Reading{}
	}
	p := s.Passes[pass]
	_, top := heights(p.Profile())
	r := Reading{Top: top, Land: p.widestLand()}
	if b := p.Body(); len(b.V) > 0 && b.End()[1] > top+seam {
		r.BodyTop = b.End()[1]
	}
	if p.Cutter.Traced != nil {
		r.Top = 0 // a board's cut tells nothing of the edge above the board
	}
	if s.kind == nil || !s.kind.corner {
		return r
	}
	z := p.Stock - s.Request.Land
	r.Kiss = &Kiss{Height: z, Out: beyond(p.Profile(), z), Foot: beyond(p.Profile(), 0)}
	return r
}

// shortLand is the length in mm below which a land is too short to measure on.
const shortLand = 0.5

// widestLand is the land of the greatest radius that stands above the table.
func (p Pass) widestLand() *Land {
	var best *Land
	above := p.Profile().Between(0, math.Inf(1))
	for i := range above.Edges() {
		e := above.Edge(i)
		if !e.Straight() || math.Abs(e.B[0]-e.A[0]) > geom.Tol || e.B[1]-e.A[1] < shortLand {
			continue
		}
		if e.A[0] > seam && (best == nil || e.A[0] > best.Out) {
			best = &Land{Out: e.A[0], From: e.A[1], To: e.B[1]}
		}
	}
	return best
}
