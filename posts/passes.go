package posts

import (
	"math"

	"blockwright/geom"
	"blockwright/jig/joint"
)

// EachPass is the request once for every pass of the joint that stands elsewhere: a
// drawer lock's sides want another fence than its fronts, so block, gauge and facing
// are made for both. Other kinds, and joints with one setting, give the request itself;
// so does one that has no setting, for Make to say why.
func EachPass(r Request) []Request {
	out := []Request{r}
	if r.Kind != "block" && r.Kind != "gauge" && r.Kind != "facing" {
		return out
	}
	j := r.Joint
	j.Web = r.Shop.Defaults.Web
	s, err := joint.Solve(j)
	if err != nil {
		return out
	}
	for i, p := range s.Passes[1:] {
		known := false
		for _, q := range s.Passes[:i+1] {
			known = known || math.Abs(q.Height-p.Height) < geom.Tol && math.Abs(q.Fence-p.Fence) < geom.Tol && q.Cutter == p.Cutter
		}
		if !known {
			other := r
			other.Pass, other.Variant = i+1, p.Name
			out = append(out, other)
		}
	}
	return out
}
