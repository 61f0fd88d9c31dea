package route

import "math"

// spread picks sites far from each other, straight ones first: the farthest
// pair, then always the one whose nearest neighbour is farthest.
func (h *holder) spread(from []*site) []*site {
	bad := map[*site]bool{}
	checked := map[*site]bool{}
	usable := func(s *site) bool {
		if !checked[s] {
			checked[s] = true
			if bad[s] = !h.holds(s); bad[s] {
				h.tried[noStock]++
			}
		}
		return !bad[s]
	}
	var best []*site
	for len(best) == 0 {
		var a, b *site
		far := 0.0
		for i, p := range from {
			if bad[p] {
				continue
			}
			for _, q := range from[i+1:] {
				if d := distance(p.mid, q.mid) * weight(p) * weight(q); d > far && !bad[q] && h.apart(p, q) {
					a, b, far = p, q, d
				}
			}
		}
		if a == nil {
			break
		}
		if usable(a) && usable(b) {
			best = []*site{a, b}
		}
	}
	if len(best) == 0 { // not even two: say how many
		for _, p := range from {
			if usable(p) {
				return []*site{p}
			}
		}
		return nil
	}
	for len(best) < h.tool.Tabs {
		var next *site
		far := 0.0
		for _, p := range from {
			if bad[p] {
				continue
			}
			near, ok := math.Inf(1), true
			for _, q := range best {
				near = math.Min(near, distance(p.mid, q.mid))
				ok = ok && h.apart(p, q)
			}
			if ok && near*weight(p) > far {
				next, far = p, near*weight(p)
			}
		}
		if next == nil {
			h.tried[tooCrowded]++
			return best
		}
		if usable(next) {
			best = append(best, next)
		}
	}
	return best
}

func weight(s *site) float64 {
	if s.straight {
		return 1
	}
	return 0.6
}

// apart tells whether between two sites enough way remains to ramp and to lead.
func (h *holder) apart(p, q *site) bool {
	if p.contour != q.contour {
		return true
	}
	if p.root == q.root && p.wide != q.wide {
		return false
	}
	l := p.contour.ring.length
	need := shortLoop + h.tool.Diameter
	return ahead(q.exact.s0, p.exact.s0, l)-p.exact.s1 >= need && ahead(p.exact.s0, q.exact.s0, l)-q.exact.s1 >= need
}
