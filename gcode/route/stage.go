package route

import (
	"blockwright/geom"
)

// A Stage says which passes of a job a program has.
type Stage uint8

// The stages. Where a job is roughed by one program and finished by another, both
// have the same wall; the finishing one states the Allowance so that the roughed
// lane is where it was: what was left on the wall, more by half of what its mill
// cuts narrower than the first program reckoned, less by half of what it cuts wider.
const (
	Whole     Stage = iota // bores, roughing, finishing
	Roughing               // bores and roughing: Allowance stays on every wall
	Finishing              // only the finishing pass, in kerf that is cut already
)

const (
	wider = 0.4 // mm: the most by which a finishing mill may turn out to cut wider than roughing reckoned
	lap   = 0.2 // mm: how far from the end of a roughed kerf the finishing mill keeps at a tab, at each side
)

// measured tells whether a second program comes after this one.
func (j *Job) measured() bool { return j.Stage == Roughing || j.Room > 0 }

// apart are the stretches that get no tab and no lead.
func (j *Job) apart() []geom.Path {
	return append(append([]geom.Path(nil), j.Keep...), j.AsComes...)
}

// roughed are the jobs of which something is roughed; the others stand as jobs
// without bores, so that numbers stay.
func roughed(jobs []Job) []Job {
	out := append([]Job(nil), jobs...)
	n := 0
	for i := range out {
		if out[i].Stage == Finishing {
			out[i].Drill = nil
		} else {
			n++
		}
	}
	if n == 0 {
		return nil
	}
	return out
}

// left are the sites of the tabs that roughing left on one wall loop. A tab keeps
// lap mm of its kerf at both ends: what the mill comes down into is cut for certain.
func (h *holder) left(w geom.Path) ([]*site, error) {
	ring := newRing(w)
	var out []*site
	for _, t := range h.job.Tabs {
		mid, length := t.Point(t.AtLength(t.Length()/2)), t.Length()+2*lap
		// The nearest outer wall has the tab.
		n := h.levels.wallIndex.Nearest(mid)
		if d := ring.index.Nearest(mid).Dist; d > n.Dist+geom.Tol {
			continue
		}
		at := ring.index.Nearest(mid)
		s := ring.upto[at.Edge] + at.T*ring.edges.Edge(at.Edge).Length()
		site := h.site(w, wrap(s-length/2, ring.length), length)
		if site == nil {
			return nil, refuse("%s: the tab at X %s Y %s is no place for the mill to pass over", h.title, mid[0], mid[1])
		}
		out = append(out, site)
	}
	return out, nil
}
