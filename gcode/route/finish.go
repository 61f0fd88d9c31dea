package route

import "blockwright/geom"

// finish runs along the contour at full depth in the finishing direction, from
// its lead once round, twice with a spring pass, and a little over. At a tab it
// goes straight up, over the tab, and aside into the roughed kerf before it goes
// straight down again.
func (p *pen) finish(c *contour, l lead, bottom float64, climb bool) {
	p.goTo(l.down, bottom)
	if l.in.Length() > tiny {
		p.edge(l.in, bottom)
	}
	laps := 1.0
	if p.tool.Spring {
		laps = 2
	}
	p.exact(c, l.s, l.s+laps*c.ring.length+l.over, bottom, climb)
	if l.out.Length() > tiny {
		p.edge(l.out, bottom)
	}
	p.lift()
}

// exact follows the contour's loop from s0 to s1 mm along it: over tabs at their
// height, and off the wall before seats.
func (p *pen) exact(c *contour, s0, s1, bottom float64, climb bool) {
	run, total := opened(c.loop), c.ring.length
	hopped := false // at s0
	for s0 < s1 {
		stop := s1
		var tab *bridge
		var off *hop
		for i := range c.tabs {
			if at := ahead(c.tabs[i].s0, s0, total); at < stop {
				stop, tab = at, &c.tabs[i]
			}
		}
		for i := range c.hops {
			at := ahead(c.hops[i].s, s0, total)
			if hopped && at-s0 < 1e-6 {
				at += total
			}
			if at < stop {
				stop, tab, off = at, nil, &c.hops[i]
			}
		}
		p.along(run, s0, stop)
		s0, hopped = stop, off != nil
		switch {
		case tab != nil:
			s0 += tab.s1 - tab.s0
			p.overTab(c, run, stop, s0, tab.aside, bottom, climb)
		case off != nil:
			for _, e := range off.way {
				p.edge(e, p.z)
			}
		}
	}
}

// overTab goes from s0 to s1 mm along the loop at the tab's height.
func (p *pen) overTab(c *contour, run geom.Path, s0, s1, aside, bottom float64, climb bool) {
	p.sink(p.tool.TabHeight)
	p.along(run, s0, s1)
	_, u := c.ring.at(s1)
	q := p.at
	p.lineTo(plus(q, outward(u, climb), aside))
	p.sink(bottom)
	p.lineTo(q)
}
