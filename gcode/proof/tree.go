package proof

import (
	"math"

	"github.com/paulmach/orb"
)

// A field is a set of curves that can be asked what lies near. Over the boxes of
// the curves, in path order, stand boxes of four each, and so on up: curves that
// follow each other lie together, so nothing needs sorting.
type field struct {
	c     []curve
	level [][]orb.Bound // level[0][i] is the box of c[i]
	stack []node
}

type node struct {
	level, i int32
	d2       float64
}

const fan = 4

func newField(c []curve) *field {
	f := &field{c: c}
	if len(c) == 0 {
		return f
	}
	b := make([]orb.Bound, len(c))
	for i := range c {
		b[i] = c[i].box
	}
	f.level = append(f.level, b)
	for len(b) > 1 {
		up := make([]orb.Bound, (len(b)+fan-1)/fan)
		for i := range b {
			if i%fan == 0 {
				up[i/fan] = b[i]
			} else {
				up[i/fan] = join(up[i/fan], b[i])
			}
		}
		f.level = append(f.level, up)
		b = up
	}
	return f
}

func join(a, b orb.Bound) orb.Bound {
	return orb.Bound{
		Min: orb.Point{min(a.Min[0], b.Min[0]), min(a.Min[1], b.Min[1])},
		Max: orb.Point{max(a.Max[0], b.Max[0]), max(a.Max[1], b.Max[1])},
	}
}

// apart2 is the squared distance between two boxes.
func apart2(a, b *orb.Bound) float64 {
	dx := max(0, max(a.Min[0]-b.Max[0], b.Min[0]-a.Max[0]))
	dy := max(0, max(a.Min[1]-b.Max[1], b.Min[1]-a.Max[1]))
	return dx*dx + dy*dy
}

// near is the least distance from p to the field's curves and the curve that has
// it; hint is a curve that is likely to be near. An empty field is infinitely far.
func (f *field) near(p *curve, hint int) (float64, int) {
	best, at := math.Inf(1), -1
	if len(f.c) == 0 {
		return best, at
	}
	if hint >= 0 && hint < len(f.c) {
		best, at = nearest(p, &f.c[hint]), hint
	}
	top := int32(len(f.level) - 1)
	f.stack = append(f.stack[:0], node{top, 0, apart2(&p.box, &f.level[top][0])})
	for len(f.stack) > 0 {
		n := f.stack[len(f.stack)-1]
		f.stack = f.stack[:len(f.stack)-1]
		if n.d2 >= best*best {
			continue
		}
		if n.level == 0 {
			if d := nearest(p, &f.c[n.i]); d < best {
				best, at = d, int(n.i)
			}
			continue
		}
		f.descend(n, &p.box)
	}
	return best, at
}

// descend puts a node's children on the stack, the nearest on top.
func (f *field) descend(n node, box *orb.Bound) {
	row := f.level[n.level-1]
	from := len(f.stack)
	for i := n.i * fan; i < (n.i+1)*fan && int(i) < len(row); i++ {
		c := node{n.level - 1, i, apart2(box, &row[i])}
		f.stack = append(f.stack, c)
		for j := len(f.stack) - 1; j > from && f.stack[j-1].d2 < f.stack[j].d2; j-- {
			f.stack[j-1], f.stack[j] = f.stack[j], f.stack[j-1]
		}
	}
}

// distance of one point.
func (f *field) distance(q orb.Point) (float64, int) {
	p := curve{box: orb.Bound{Min: q, Max: q}}
	best, at := math.Inf(1), -1
	if len(f.c) == 0 {
		return best, at
	}
	top := int32(len(f.level) - 1)
	f.stack = append(f.stack[:0], node{top, 0, 0})
	for len(f.stack) > 0 {
		n := f.stack[len(f.stack)-1]
		f.stack = f.stack[:len(f.stack)-1]
		if n.d2 >= best*best {
			continue
		}
		if n.level == 0 {
			if d := f.c[n.i].dist(q); d < best {
				best, at = d, int(n.i)
			}
			continue
		}
		f.descend(n, &p.box)
	}
	return best, at
}

// reach appends to dst the curves whose boxes lie within d mm of the box.
func (f *field) reach(dst []int32, box orb.Bound, d float64) []int32 {
	if len(f.c) == 0 {
		return dst
	}
	d2 := d * d * (1 + 1e-12)
	f.stack = append(f.stack[:0], node{level: int32(len(f.level) - 1)})
	for len(f.stack) > 0 {
		n := f.stack[len(f.stack)-1]
		f.stack = f.stack[:len(f.stack)-1]
		if n.level == 0 {
			dst = append(dst, n.i)
			continue
		}
		row := f.level[n.level-1]
		for i := n.i * fan; i < (n.i+1)*fan && int(i) < len(row); i++ {
			if apart2(&box, &row[i]) <= d2 {
				f.stack = append(f.stack, node{level: n.level - 1, i: i})
			}
		}
	}
	return dst
}
