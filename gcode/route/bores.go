package route

import (
	"math"
	"sort"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// A bore is a circle to be milled out.
type bore struct {
	job    int
	centre orb.Point
	radius float64
}

// asCircle gives centre and radius of a closed path of arcs that all lie on one
// circle, within geom.Tol.
func asCircle(p geom.Path) (c orb.Point, r float64, ok bool) {
	if !p.Closed || p.Edges() < 2 {
		return c, 0, false
	}
	for i := range p.Edges() {
		e := p.Edge(i)
		if e.Straight() {
			return c, 0, false
		}
		ci, ri := e.Arc()
		if i == 0 {
			c, r = ci, ri
		} else if distance(c, ci) > geom.Tol || math.Abs(r-ri) > geom.Tol {
			return c, 0, false
		}
	}
	return c, r, math.Abs(math.Abs(p.Area())-math.Pi*r*r) < 0.01*r*r
}

// bores collects the bores of all jobs, small before large, and checks each: a
// circle, at least 1 mm wider than the mill, whole inside its plate.
func bores(jobs []Job, t *Tool) ([]bore, error) {
	var out []bore
	for i := range jobs {
		j := &jobs[i]
		for _, p := range j.Drill {
			c, r, ok := asCircle(p)
			switch {
			case !ok:
				return nil, refuse("%s: a bore near X %s Y %s is no circle", j.title(i), p.V[0].X(), p.V[0].Y())
			case r > mostRings*t.Diameter/2:
				return nil, refuse("%s: the bore at X %s Y %s is %s wide; a %s mill mills out at most %s: make it an inside wall, or take a thicker mill",
					j.title(i), c[0], c[1], 2*r, t.Diameter, mostRings*t.Diameter)
			case 2*r < t.Diameter+boreSpare-geom.Tol:
				return nil, refuse("%s: the bore at X %s Y %s is %s wide; a %s mill needs at least %s",
					j.title(i), c[0], c[1], 2*r, t.Diameter, t.Diameter+boreSpare)
			}
			if d := j.Wall.SignedDist(c); d > -r-geom.Tol {
				return nil, refuse("%s: the bore at X %s Y %s, %s wide, breaks through the wall; %s from its centre to the wall",
					j.title(i), c[0], c[1], 2*r, -d)
			}
			out = append(out, bore{i, c, r})
		}
	}
	sort.SliceStable(out, func(a, b int) bool { return out[a].radius < out[b].radius })
	return out, nil
}

// cut mills the bore through the sheet: a helix down and a full circle at depth,
// in the finishing direction. What one ring would leave standing is cleared first,
// from the inside: nothing comes loose.
func (p *pen) cut(b bore, climb bool, bottom float64) {
	rho := p.tool.Diameter / 2
	last := b.radius - rho
	rings := []float64{last}
	if last > rho {
		// The innermost ring has to reach the middle, each next one the last.
		n := int(math.Ceil((last-0.9*rho)/(1.4*rho))) + 1
		rings = rings[:0]
		for k := range n {
			rings = append(rings, 0.9*rho+float64(k)/float64(n-1)*(last-0.9*rho))
		}
	}
	turn := 1.0 // inside a hole the wall is on the right of a counter-clockwise way
	if !climb {
		turn = -1
	}
	for _, r := range rings {
		p.helix(b.centre, r, turn, bottom)
	}
	p.lineTo(b.centre) // off the wall before the mill comes up
	p.lift()
}

// helix mills a ring of centre radius r down to bottom, ending with a full
// circle there.
func (p *pen) helix(c orb.Point, r, turn, bottom float64) {
	start := orb.Point{c[0] + r, c[1]}
	p.goTo(start, p.thick+touch)
	ring := geom.Circle(c, r)
	if turn < 0 {
		ring = ring.Reverse()
	}
	run := opened(ring)
	fall := p.thick + touch - bottom
	// The mill stands behind itself too: where its rear passes over what the turn
	// before left a quarter turn higher, it takes a quarter more than the pitch.
	const pitch = 0.75 // of the step-down
	half := math.Min(p.drop(math.Pi*r), pitch*p.tool.StepDown/2)
	n := max(1, int(math.Ceil(fall/half-tiny)))
	for k := 1; k <= n; k++ {
		z := bottom
		if k < n {
			z = p.thick + touch - fall*float64(k)/float64(n)
		}
		p.edge(run.Edge((k-1)%2), z)
	}
	p.edge(run.Edge(n%2), bottom)
	p.edge(run.Edge((n+1)%2), bottom)
}

// touch is how far over the sheet in mm the feed changes from straight down to
// ramping: rounded words never reach the sheet before.
const touch = 0.05

// opened is a closed path as an open one that ends where it starts.
func opened(p geom.Path) geom.Path {
	if !p.Closed {
		return p
	}
	v := append([]geom.Vertex(nil), p.V...)
	return geom.Path{V: append(v, geom.Vertex{Point: p.V[0].Point})}
}
