package route

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"blockwright/gcode"
	"blockwright/geom"
)

// Plan plans the program of one mill that cuts all jobs from one sheet. The jobs
// are as thick as the sheet and stand where they lie on it. An error names the
// plate and the place and says what is wanted.
func Plan(jobs []Job, t Tool) (*Program, error) {
	if err := checkAll(jobs, &t); err != nil {
		return nil, err
	}
	t.KerfExtra = math.Min(t.KerfExtra, t.Diameter/2)
	holes, err := bores(roughed(jobs), &t)
	if err != nil {
		return nil, err
	}
	b := &bench{jobs: jobs, tool: &t}
	if err := b.survey(); err != nil {
		return nil, err
	}
	p := newPen(&t, jobs[0].Thick)
	p.start()
	for _, h := range holes {
		p.job = uint8(h.job)
		p.note(fmt.Sprintf("%s: bore %.3f wide at X%.3f Y%.3f", jobs[h.job].title(h.job), 2*h.radius, h.centre[0], h.centre[1]))
		p.cut(h, jobs[h.job].Climb, -t.Through)
	}
	for _, c := range b.pockets {
		if err := b.clear(p, c); err != nil {
			return nil, err
		}
	}
	if t.Hold == Screws && len(roughed(jobs)) > 0 {
		if err := b.screws(holes); err != nil {
			return nil, err
		}
		p.pause("screw every plate down through its bores; no head above the sheet's top by more than safe height")
	}
	for _, c := range b.contours {
		if err := b.cut(p, c); err != nil {
			return nil, err
		}
	}
	p.lift()
	b.chips()
	out := p.program()
	out.Tabs, out.Hints = b.tabs, b.hints
	if err := b.onSheet(out); err != nil {
		return nil, err
	}
	return out, nil
}

// A bench is what is known of the sheet before a move is made.
type bench struct {
	jobs     []Job
	tool     *Tool
	contours []*contour
	pockets  []*clearing
	tabs     []Tab
	hints    []Hint
}

func (b *bench) hint(part, text string, mm ...float64) {
	b.hints = append(b.hints, Hint{strings.ReplaceAll(part, "%", "%%") + ": " + text, mm})
}

// survey lays out lanes, contours and tabs of all jobs.
func (b *bench) survey() error {
	t := b.tool
	ls := make([]*levels, len(b.jobs))
	for i := range b.jobs {
		var err error
		if ls[i], err = stepAll(&b.jobs[i], b.jobs[i].title(i), t); err != nil {
			return err
		}
	}
	if err := separate(b.jobs, ls, t); err != nil {
		return err
	}
	for i := range b.jobs {
		cs, err := clearings(i, &b.jobs[i], t)
		if err != nil {
			return err
		}
		b.pockets = append(b.pockets, cs...)
	}
	if err := separatePockets(b.jobs, b.pockets, ls, t); err != nil {
		return err
	}
	for i := range b.jobs {
		j := &b.jobs[i]
		r := ls[i].tracks(t)
		cs := contours(i, j.title(i), j.Climb, ls[i], r)
		b.contours = append(b.contours, cs...)
		if t.Hold == Tabs {
			if err := b.hold(i, ls, r, cs); err != nil {
				return err
			}
		}
	}
	order(b.contours)
	return b.nested()
}

// nested refuses a plate in a window of another one, unless a skin holds both: what
// it is held by comes loose with the window.
func (b *bench) nested() error {
	if b.tool.Hold == Skin {
		return nil
	}
	for _, c := range b.contours {
		for _, o := range b.contours {
			if c.outline && !o.outline && o.loop.Winding(c.loop.V[0].Point) != 0 {
				q := c.loop.V[0]
				return refuse("%s: the part near X %s Y %s lies in a window of %s, and nothing holds it once that is cut: place it beside, or leave a skin", c.title, q.X(), q.Y(), o.title)
			}
		}
	}
	return nil
}

// hold places the tabs of one job.
func (b *bench) hold(i int, ls []*levels, r *rough, cs []*contour) error {
	j, t := &b.jobs[i], b.tool
	h := holder{tool: t, job: j, title: j.title(i), levels: ls[i], rough: r, contours: cs, kerf: t.Diameter + j.Allowance + t.KerfExtra}
	for k := range b.jobs {
		if k != i {
			h.others = append(h.others, ls[k].wallIndex)
		}
	}
	sites, err := h.place()
	for _, s := range sites {
		b.tabs = append(b.tabs, Tab{Job: i, At: s.mid, Wall: s.wall, Height: t.TabHeight})
	}
	return err
}

// cut roughs and finishes one contour.
func (b *bench) cut(p *pen, c *contour) error {
	j, t := &b.jobs[c.job], b.tool
	bottom := -t.Through
	if t.Hold == Skin {
		bottom = t.Skin
	}
	l, err := c.leadFor(j, t)
	if err != nil {
		return err
	}
	if j.Stage != Roughing {
		for _, q := range c.approach(j, t) {
			b.hint(c.title, "the seat at X %s Y %s is approached from inside the plate; lost motion of the machine stays in it", q[0], q[1])
		}
	}
	p.job = uint8(c.job)
	what := "inside wall"
	if c.outline {
		what = "outline"
	}
	for _, k := range c.roots {
		if k.done || j.Stage == Finishing {
			continue
		}
		k.done = true
		if err := k.rampable(p, c.title); err != nil {
			return err
		}
		k.start = k.place(k.near(l.down))
		if slices.Contains(c.rough.waste, k) {
			p.note(c.title + ": mill away the waste of the " + what)
		} else {
			p.note(c.title + ": rough " + what)
		}
		p.rough(k, bottom)
		p.lift()
	}
	if j.Stage == Roughing {
		return nil
	}
	if j.Room > 0 {
		if err := c.widen(p, j, t, bottom); err != nil {
			return err
		}
	}
	way := "conventional"
	if j.Climb {
		way = "climb"
	}
	p.note(c.title + ": finish " + what + ", " + way)
	p.finish(c, l, bottom, j.Climb)
	return nil
}

// rampable refuses a root whose edges are all too short to sink on.
func (k *root) rampable(p *pen, title string) error {
	runs := []geom.Path{k.run}
	if len(k.tabs) > 0 {
		for _, s := range k.stretches() {
			runs = append(runs, s.there.run)
		}
	}
	for _, q := range runs {
		if !p.drops(q) {
			return refuse("%s: the edges near X %s Y %s are all shorter than %s; too short to ramp on",
				title, q.V[0].X(), q.V[0].Y(), rounding/p.slope)
		}
	}
	return nil
}

// screws refuses plates without a bore to screw through.
func (b *bench) screws(holes []bore) error {
	n := make([]int, len(b.jobs))
	for _, h := range holes {
		n[h.job]++
	}
	for i := range b.jobs {
		switch n[i] {
		case 0:
			return fmt.Errorf("route: %s has no bore to screw it down through; want at least one, or another way to hold it", b.jobs[i].title(i))
		case 1:
			b.hint(b.jobs[i].title(i), "one screw lets the plate turn; tape it down as well")
		}
	}
	return nil
}

// chips hints at a finishing pass so light that its chips are thinner than the
// edge can lift.
func (b *bench) chips() {
	t := b.tool
	if t.Flutes <= 0 {
		return
	}
	per := t.Feed / t.RPM / float64(t.Flutes)
	for i := range b.jobs {
		a := b.jobs[i].Allowance
		if b.jobs[i].Stage == Roughing {
			continue
		}
		if h := ChipThickness(per, a, t.Diameter); a > 0 && h < thinChip {
			b.hint(b.jobs[i].title(i), "the finishing pass takes %s and makes chips of %s; under %s the mill rubs: leave more (allowance in shop.toml) or feed faster (feed_factor)", a, h, thinChip)
			return
		}
	}
}

// thinChip in mm is about the radius of a sharp edge. Common practice, no source.
const thinChip = 0.005

// onSheet refuses a program that cuts beyond the sheet.
func (b *bench) onSheet(out *Program) error {
	s, w := b.tool.Sheet, out.Bound
	if s.IsZero() || s.Contains(w.Min) && s.Contains(w.Max) {
		return nil
	}
	return refuse("the mill cuts X %s to %s, Y %s to %s; the sheet reaches from X %s Y %s to X %s Y %s",
		w.Min[0], w.Max[0], w.Min[1], w.Max[1], s.Min[0], s.Min[1], s.Max[0], s.Max[1])
}

// pause stops the program with the spindle off until the operator goes on.
func (p *pen) pause(why string) {
	p.lift()
	p.note(why)
	p.add(gcode.Pause, p.at, p.z, 0, orb.Point{})
	p.moves[len(p.moves)-1].RPM = 0
}

// program closes the plan: its moves, notes and extents.
func (p *pen) program() *Program {
	out := &Program{Moves: p.moves, Notes: p.notes, Depth: math.Inf(1)}
	first := true
	rho := p.tool.Diameter / 2
	for i := range p.moves {
		m := &p.moves[i]
		if !m.Cuts() {
			continue
		}
		lo, hi := m.Bound()
		out.Depth = math.Min(out.Depth, lo[2])
		b := orb.Bound{Min: orb.Point{lo[0], lo[1]}, Max: orb.Point{hi[0], hi[1]}}.Pad(rho)
		if first {
			out.Bound, first = b, false
		} else {
			out.Bound = out.Bound.Union(b)
		}
	}
	if first {
		out.Depth = 0
	}
	return out
}

// checkAll checks the tool and every job before anything is planned.
func checkAll(jobs []Job, t *Tool) error {
	if len(jobs) == 0 || len(jobs) > maxJobs {
		return fmt.Errorf("route: %d plates on the sheet; want 1 to %d", len(jobs), maxJobs)
	}
	if err := t.check(jobs[0].Thick); err != nil {
		return err
	}
	for i := range jobs {
		if err := jobs[i].check(i); err != nil {
			return err
		}
		if jobs[i].Thick != jobs[0].Thick {
			return fmt.Errorf("route: %s is %g thick and %s %g; one sheet has one thickness", jobs[0].title(0), jobs[0].Thick, jobs[i].title(i), jobs[i].Thick)
		}
	}
	return nil
}
