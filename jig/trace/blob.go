package trace

import (
	"slices"

	"github.com/paulmach/orb"
)

// This file answers how one piece of a picture is outlined.

// A blob is one piece of the mask.
type blob struct {
	size    int
	x, y    int         // its first pixel: topmost, of those leftmost
	outline []orb.Point // in mm, counter-clockwise, y up
	rim     bool        // touches the picture's rim
}

// blobs are the connected pieces of the mask of at least the area in mm², the largest
// first, with their outer outlines.
func (o *overview) blobs(mask []bool, area float64) []blob {
	least := max(12, int(area/(o.mm[0]*o.mm[1])))
	seen := make([]bool, len(mask))
	var out []blob
	var stack []int32
	for i := range mask {
		if !mask[i] || seen[i] {
			continue
		}
		b := blob{x: i % o.w, y: i / o.w}
		stack = append(stack[:0], int32(i))
		seen[i] = true
		for len(stack) > 0 {
			p := int(stack[len(stack)-1])
			stack = stack[:len(stack)-1]
			b.size++
			x, y := p%o.w, p/o.w
			if x == 0 || y == 0 || x == o.w-1 || y == o.h-1 {
				b.rim = true
			}
			for _, d := range [4][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
				u, v := x+d[0], y+d[1]
				if u < 0 || v < 0 || u >= o.w || v >= o.h {
					continue
				}
				if q := v*o.w + u; mask[q] && !seen[q] {
					seen[q] = true
					stack = append(stack, int32(q))
				}
			}
		}
		if b.size >= least {
			b.outline = o.follow(mask, b.x, b.y)
			out = append(out, b)
		}
	}
	slices.SortStableFunc(out, func(a, b blob) int { return b.size - a.size })
	return out
}

// follow walks round the outer boundary of the piece whose topmost pixel is (x, y),
// along the sides of the pixels, the piece on the left as seen with y up, and returns
// the middles of the sides.
func (o *overview) follow(mask []bool, x, y int) []orb.Point {
	on := func(x, y int) bool { return x >= 0 && y >= 0 && x < o.w && y < o.h && mask[y*o.w+x] }
	// On the corners of pixels, y down. Directions: 0 right, 1 down, 2 left, 3 up.
	// Along the top side leftward has the piece on the left, seen with y down turned.
	step := [4][2]int{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}
	cx, cy, dir := x+1, y, 2
	sx, sy, sd := cx, cy, dir
	var out []orb.Point
	for range 8 * len(mask) {
		nx, ny := cx+step[dir][0], cy+step[dir][1]
		out = append(out, orb.Point{float64(cx+nx) / 2 * o.mm[0], -float64(cy+ny) / 2 * o.mm[1]})
		cx, cy = nx, ny
		// The two pixels ahead: left and right of the way.
		var lx, ly, rx, ry int
		switch dir {
		case 0:
			lx, ly, rx, ry = cx, cy-1, cx, cy
		case 1:
			lx, ly, rx, ry = cx, cy, cx-1, cy
		case 2:
			lx, ly, rx, ry = cx-1, cy, cx-1, cy-1
		case 3:
			lx, ly, rx, ry = cx-1, cy-1, cx, cy-1
		}
		switch {
		case !on(lx, ly):
			dir = (dir + 3) % 4 // left
		case on(rx, ry):
			dir = (dir + 1) % 4 // right
		}
		if cx == sx && cy == sy && dir == sd {
			break
		}
	}
	return out
}
