package geom

// A box is bounded by x0 ≤ x ≤ x1 and y0 ≤ y ≤ y1.
type box struct{ x0, y0, x1, y1 float64 }

func (b *box) union(c *box) box {
	return box{min(b.x0, c.x0), min(b.y0, c.y0), max(b.x1, c.x1), max(b.y1, c.y1)}
}

// meets tells whether two boxes come within near of each other, by axis.
func (b *box) meets(c *box, near float64) bool {
	return b.x0-near <= c.x1 && c.x0-near <= b.x1 && b.y0-near <= c.y1 && c.y0-near <= b.y1
}

// dist2 is the square of the distance from (x, y) to the box.
func (b *box) dist2(x, y float64) float64 {
	dx := max(b.x0-x, 0, x-b.x1)
	dy := max(b.y0-y, 0, y-b.y1)
	return dx*dx + dy*dy
}

// A boxTree holds boxes in the order in which they are given, which for the edges
// of a path is nearly an order in space: neighbours are united in pairs, the
// pairs in pairs, up to one box. Nothing is sorted; building costs one union a
// box.
type boxTree struct {
	level [][]box // level[0] the boxes themselves, the last level a single box
	slab  []box
}

// build makes the tree over n boxes, which the caller writes into the returned
// slice before it calls grow.
func (t *boxTree) build(n int) []box {
	total, levels := n, 1
	for m := n; m > 1; levels++ {
		m = (m + 1) / 2
		total += m
	}
	if cap(t.slab) < total {
		t.slab = make([]box, total)
	}
	t.slab = t.slab[:total]
	t.level = t.level[:0]
	at := 0
	for m := n; ; m = (m + 1) / 2 {
		t.level = append(t.level, t.slab[at:at+m:at+m])
		at += m
		if m <= 1 {
			break
		}
	}
	return t.level[0]
}

// grow unites the boxes upwards.
func (t *boxTree) grow() {
	for l := 1; l < len(t.level); l++ {
		up, low := t.level[l], t.level[l-1]
		n := len(low) / 2
		for i := 0; i < n; i++ {
			up[i] = low[2*i].union(&low[2*i+1])
		}
		if len(low)%2 == 1 {
			up[n] = low[len(low)-1]
		}
	}
}

// pairs calls each once for every pair i < j of boxes that come within near of
// each other, neighbours included. Boxes that follow each other with the same
// number in run are not paired; nil pairs all.
func (t *boxTree) pairs(near float64, run []int32, each func(i, j int)) {
	if len(t.level) == 0 {
		return
	}
	b := t.level[0]
	if len(b) > few {
		t.within(len(t.level)-1, 0, near, run, each)
		return
	}
	for i := range b {
		for j := i + 1; j < len(b); j++ {
			if b[i].meets(&b[j], near) && (run == nil || run[i] != run[j]) {
				each(i, j)
			}
		}
	}
}

// few boxes are paired faster one by one than by the tree.
const few = 16

// within finds the pairs inside node i of level l.
func (t *boxTree) within(l, i int, near float64, run []int32, each func(i, j int)) {
	if l == 0 || run != nil && run[i<<l] == run[t.last(l, i)] {
		return
	}
	a, b := 2*i, 2*i+1
	t.within(l-1, a, near, run, each)
	if b < len(t.level[l-1]) {
		t.within(l-1, b, near, run, each)
		t.between(t, l-1, l-1, a, b, near, run, each)
	}
}

// last is the last box under node i of level l.
func (t *boxTree) last(l, i int) int { return min((i+1)<<l, len(t.level[0])) - 1 }

// between finds the pairs of one box under node i of level l of t and one under
// node j of level m of u. The higher node is opened first.
func (t *boxTree) between(u *boxTree, l, m, i, j int, near float64, run []int32, each func(i, j int)) {
	if !t.level[l][i].meets(&u.level[m][j], near) || run != nil && run[i<<l] == run[u.last(m, j)] {
		return
	}
	switch {
	case l == 0 && m == 0:
		each(i, j)
	case l >= m:
		t.between(u, l-1, m, 2*i, j, near, run, each)
		if 2*i+1 < len(t.level[l-1]) {
			t.between(u, l-1, m, 2*i+1, j, near, run, each)
		}
	default:
		t.between(u, l, m-1, i, 2*j, near, run, each)
		if 2*j+1 < len(u.level[m-1]) {
			t.between(u, l, m-1, i, 2*j+1, near, run, each)
		}
	}
}

// across calls each for every pair of a box of t and a box of u within near.
func (t *boxTree) across(u *boxTree, near float64, each func(i, j int)) {
	if len(t.slab) == 0 || len(u.slab) == 0 {
		return
	}
	t.between(u, len(t.level)-1, len(u.level)-1, 0, 0, near, nil, each)
}

// search calls each for the boxes within reach of (x, y), the nearer half of a
// node first, until each answers with the new square of the reach; a negative
// one ends the search.
func (t *boxTree) search(x, y, reach2 float64, each func(i int) float64) {
	if len(t.slab) == 0 {
		return
	}
	type node struct {
		l, i int32
		d2   float64
	}
	var stack [40]node // one more than levels
	top := len(t.level) - 1
	stack[0] = node{int32(top), 0, t.level[top][0].dist2(x, y)}
	for n := 1; n > 0; {
		n--
		at := stack[n]
		if at.d2 > reach2 {
			continue
		}
		if at.l == 0 {
			reach2 = each(int(at.i))
			continue
		}
		low := t.level[at.l-1]
		a := 2 * at.i
		da := low[a].dist2(x, y)
		if int(a)+1 == len(low) {
			stack[n] = node{at.l - 1, a, da}
			n++
			continue
		}
		db := low[a+1].dist2(x, y)
		if da <= db {
			stack[n], stack[n+1] = node{at.l - 1, a + 1, db}, node{at.l - 1, a, da}
		} else {
			stack[n], stack[n+1] = node{at.l - 1, a, da}, node{at.l - 1, a + 1, db}
		}
		n += 2
	}
}

// ray calls each for the boxes that the ray from (x, y) to the right meets.
func (t *boxTree) ray(x, y float64, each func(i int)) {
	if len(t.slab) > 0 {
		t.rayUnder(len(t.level)-1, 0, x, y, each)
	}
}

func (t *boxTree) rayUnder(l, i int, x, y float64, each func(i int)) {
	b := &t.level[l][i]
	if y < b.y0 || y > b.y1 || x > b.x1 {
		return
	}
	if l == 0 {
		each(i)
		return
	}
	t.rayUnder(l-1, 2*i, x, y, each)
	if 2*i+1 < len(t.level[l-1]) {
		t.rayUnder(l-1, 2*i+1, x, y, each)
	}
}
