package route

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// A Pocket is ground to be cleared down to a floor part-way through the sheet.
type Pocket struct {
	// Floor is what the mill's rim may sweep and shall: every inside radius is at
	// least the mill's. Where the pocket is open, at the plate's edge or over an
	// opening, it goes on beyond by at least the mill's radius.
	Floor geom.Region
	Depth float64 // mm, of the floor below the sheet's top
}

// stepOver is the distance between two ways of clearing, as a share of the mill's
// radius. Below 1 nothing stays between them: on the shortest way from a place of
// the pocket to its wall, the next way outside is not farther than the step.
const stepOver = 0.8

// A clearing is how one pocket is cleared: lanes that run parallel to its wall,
// one inside the other, and the ways of the finishing pass.
type clearing struct {
	job   int
	title string
	floor float64     // mm above the spoilboard
	exact []geom.Path // the finishing ways, closed
	roots []*root     // the outermost lanes, with what they enclose hung on them
	left  float64     // mm that the lanes leave on the wall
}

// checkPocket finds what makes a pocket impossible before any path is planned.
func (j *Job) checkPocket(i, k int) error {
	p := &j.Pockets[k]
	if !(p.Depth > 0 && p.Depth < j.Thick) {
		return refuse("%s: a pocket %s deep; want more than 0, less than the sheet's %s", j.title(i), p.Depth, j.Thick)
	}
	if len(p.Floor) == 0 {
		return fmt.Errorf("route: %s: a pocket without a floor", j.title(i))
	}
	for _, f := range p.Floor {
		for _, v := range f.V {
			if !(math.Abs(v.X()) <= 1e5 && math.Abs(v.Y()) <= 1e5 && math.Abs(v.Bulge) <= 1) {
				return fmt.Errorf("route: %s: a pocket's vertex (%g, %g, bulge %g) is no place on a sheet", j.title(i), v.X(), v.Y(), v.Bulge)
			}
		}
	}
	if err := p.Floor.Check(); err != nil {
		return fmt.Errorf("route: %s: a pocket's floor is no region: %w", j.title(i), err)
	}
	return nil
}

// clearings lays out the pockets of one job.
func clearings(i int, j *Job, t *Tool) ([]*clearing, error) {
	var out []*clearing
	for k := range j.Pockets {
		c := &clearing{job: i, title: j.title(i), floor: j.Thick - j.Pockets[k].Depth}
		if err := c.layOut(j, j.Pockets[k].Floor, t); err != nil {
			return nil, err
		}
		out = append(out, c)
	}
	return out, nil
}

// layOut finds the finishing ways and the lanes: those that leave the allowance if
// the finishing pass then meets no more than that anywhere, else those that leave
// less.
func (c *clearing) layOut(j *Job, floor geom.Region, t *Tool) error {
	rho := t.Diameter / 2
	at := func(d float64) ([]geom.Path, error) {
		r, err := offset(floor, -d)
		if err != nil {
			return nil, fmt.Errorf("route: %s: pocket: %w", c.title, err)
		}
		return facing(r, !j.Climb), nil // the wall is outside
	}
	var err error
	if c.exact, err = at(rho); err != nil {
		return err
	}
	if len(c.exact) == 0 {
		q := floor[0].V[0].Point
		return refuse("%s: a %s mill does not go into the pocket near X %s Y %s", c.title, t.Diameter, q[0], q[1])
	}
	for _, p := range c.exact {
		if l := p.Length(); l < shortLoop-geom.Tol {
			return refuse("%s: the pocket near X %s Y %s leaves a %s mill only %s of way; a ramp needs %s",
				c.title, p.V[0].X(), p.V[0].Y(), t.Diameter, l, shortLoop)
		}
	}
	if err := c.reaches(floor, j.Wall, rho); err != nil {
		return err
	}
	var lanes []geom.Path
	for _, c.left = range allowances(j.Allowance) {
		if lanes = c.exact; c.left > 0 {
			if lanes, err = at(rho + c.left); err != nil {
				return err
			}
			if len(longer(lanes, shortLoop)) < len(lanes) || len(lanes) == 0 {
				continue
			}
		}
		if d, _ := geom.FarthestOf(c.exact, lanes, 1e-4); d <= c.left+engage {
			break
		}
	}
	return c.nest(lanes, at, rho)
}

// reaches checks that the mill touches the pocket's wall wherever the plate has one.
func (c *clearing) reaches(floor, wall geom.Region, rho float64) error {
	swept, err := offset(floor, -rho)
	if err == nil {
		swept, err = offset(swept, rho)
	}
	if err != nil {
		return fmt.Errorf("route: %s: pocket: %w", c.title, err)
	}
	for _, p := range geom.Difference(geom.Intersection(floor, wall), swept) {
		for i := range p.Edges() {
			q := p.Edge(i).A
			if d := geom.Nearest(c.exact, q).Dist; d > rho+1e-3 {
				return refuse("%s: a %s mill cannot reach the pocket's wall at X %s Y %s; it stays %s away", c.title, 2*rho, q[0], q[1], d-rho)
			}
		}
	}
	return nil
}

// nest hangs lane on lane, each on the one that encloses it.
func (c *clearing) nest(lanes []geom.Path, at func(float64) ([]geom.Path, error), rho float64) error {
	r := &rough{}
	for _, l := range lanes {
		r.grow(l, c.left)
	}
	c.roots = r.roots
	outer := append([]*track(nil), r.all...)
	within := geom.Bound(lanes)
	for k := 1; len(outer) > 0; k++ {
		// Every lane takes a step off all sides of what lies within the outermost.
		if wide := math.Min(within.Max[0]-within.Min[0], within.Max[1]-within.Min[1]); float64(k)*stepOver*rho > wide/2+rho {
			q := outer[0].run.Start()
			return fmt.Errorf("route: %s: the lanes of the pocket near X %.3f Y %.3f do not come to an end; want a floor whose parallels do", c.title, q[0], q[1])
		}
		loops, err := at(rho + c.left + float64(k)*stepOver*rho)
		if err != nil {
			return err
		}
		var inner []*track
		for _, l := range loops {
			if l.Length() < rho/10 {
				continue // the lane outside reaches as far
			}
			t, err := c.hang(l, outer, stepOver*rho)
			if err != nil {
				return err
			}
			inner = append(inner, t)
		}
		outer = inner
	}
	var tidy func(t *track)
	tidy = func(t *track) {
		sortKids(t.kids)
		for _, k := range t.kids {
			tidy(k.t)
		}
	}
	for _, k := range c.roots {
		tidy(&k.track)
	}
	return nil
}

// hang puts a lane on the one step mm outside it, where the way over is shortest.
// A disc about a place of the inner lane that touches the outer one lies in the
// pocket with the mill's radius to spare, so the straight way over is clear.
func (c *clearing) hang(loop geom.Path, outer []*track, step float64) (*track, error) {
	var on *track
	near := geom.Near{Dist: math.Inf(1)}
	from := 0
	for i := range loop.V {
		for _, o := range outer {
			if n := o.near(loop.V[i].Point); n.Dist < near.Dist-1e-9 {
				on, near, from = o, n, i
			}
		}
	}
	if on == nil || near.Dist > step+1e-4 {
		q := loop.V[0].Point
		return nil, refuse("%s: no way over to the middle of the pocket near X %s Y %s", c.title, q[0], q[1])
	}
	t := &track{run: opened(loop.Rotate(from)), loop: true, left: math.Inf(1)}
	on.kids = append(on.kids, kid{on.place(near), t})
	return t, nil
}

// clear cuts the pocket: in layers lane by lane, ramped down on the outermost, then
// its wall once round at the floor.
func (b *bench) clear(p *pen, c *clearing) error {
	j := &b.jobs[c.job]
	p.job = uint8(c.job)
	for _, k := range c.roots {
		if err := k.rampable(p, c.title); err != nil {
			return err
		}
		p.note(fmt.Sprintf("%s: clear pocket, %.3f deep", c.title, j.Thick-c.floor))
		p.loop(k, p.thick, c.floor)
		p.lift()
	}
	way := "conventional"
	if j.Climb {
		way = "climb"
	}
	for _, l := range c.exact {
		p.note(c.title + ": finish pocket, " + way)
		if err := p.finishPocket(c, l); err != nil {
			return err
		}
		p.lift()
	}
	return nil
}

// finishPocket runs round one wall of the pocket at its floor, twice with a spring
// pass, and a little over. It comes from the nearest lane and goes back to it.
func (p *pen) finishPocket(c *clearing, loop geom.Path) error {
	r := newRing(loop)
	s, ok := c.begin(r)
	if !ok {
		q := loop.V[0].Point
		return refuse("%s: the pocket's wall near X %s Y %s has no place for the finishing pass to begin", c.title, q[0], q[1])
	}
	q, _ := r.at(s)
	from, _ := c.aside(q)
	p.goTo(from, c.floor)
	p.lineTo(q)
	laps := 1.0
	if p.tool.Spring {
		laps = 2
	}
	end := s + laps*r.length + math.Min(0.5, r.length/8)
	p.along(opened(loop), s, end)
	if q, _ = r.at(end); c.left > 0 {
		if to, ok := c.aside(q); ok {
			p.lineTo(to)
		}
	}
	return nil
}

// begin is a place on the ring that a lane runs beside all clear: the foot of the
// middle of the longest possible edge of a lane.
func (c *clearing) begin(r *ring) (s float64, ok bool) {
	best := 0.0
	for _, k := range c.roots {
		for i := range k.run.Edges() {
			e := k.run.Edge(i)
			if l := e.Length(); l > best+tiny {
				if at, near := r.passes(e.At(0.5), c.left+1e-5); near {
					if q, _ := r.at(at); c.besideLane(q) {
						best, s, ok = l, at, true
					}
				}
			}
		}
	}
	return s, ok
}

func (c *clearing) besideLane(q orb.Point) bool {
	_, ok := c.aside(q)
	return ok
}

// aside is the nearest place on the outermost lanes, if it is no farther than what
// they leave.
func (c *clearing) aside(q orb.Point) (orb.Point, bool) {
	near := geom.Near{Dist: math.Inf(1)}
	for _, k := range c.roots {
		if n := k.near(q); n.Dist < near.Dist {
			near = n
		}
	}
	return near.At, near.Dist <= c.left+2e-5
}

// separatePockets refuses a sheet on which a pocket cuts into another plate.
func separatePockets(jobs []Job, cs []*clearing, ls []*levels, t *Tool) error {
	rho := t.Diameter / 2
	for _, c := range cs {
		box := geom.Bound(c.exact).Pad(rho)
		for k := range jobs {
			if k == c.job || !box.Intersects(jobs[k].Wall.Bound()) {
				continue
			}
			d, at, _ := geom.Closest(c.exact, jobs[k].Wall)
			for _, l := range c.exact {
				if q := l.V[0].Point; outside(ls[k].wallIndex, q) < 0 {
					d, at = 0, q
				}
			}
			if d < rho-geom.Tol {
				return refuse("the pocket of %s is too near to %s: at X %s Y %s the mill's centre comes within %s of its wall, %s is wanted",
					c.title, jobs[k].title(k), at[0], at[1], d, rho)
			}
		}
	}
	return nil
}
