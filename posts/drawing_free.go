package posts

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"blockwright/geom"
	"blockwright/posts/svg"
)

// free finds room for the letters of seats: places that cover no text, no other
// letter, and as few lines as can be.
type free struct {
	c        *svg.Canvas
	segments [][2]orb.Point
	discs    []orb.Point
}

func newFree(c *svg.Canvas) *free { return &free{c: c} }

const balloonRadius = 2.7

// lines are to be kept clear of where there is a choice.
func (f *free) lines(ps ...geom.Path) {
	for _, p := range ps {
		q := p.Flatten(0.1)
		for i := 1; i < len(q); i++ {
			f.segments = append(f.segments, [2]orb.Point{q[i-1], q[i]})
		}
	}
}

// balloon draws a letter in a ring with a line to the middle of the seat.
func (f *free) balloon(seat geom.Path, letter string) {
	best, from, to := math.Inf(1), orb.Point{}, orb.Point{}
	l := seat.Length()
	texts := f.c.TextBoxes()
	for _, share := range []float64{0.5, 0.35, 0.65, 0.2, 0.8} {
		at := seat.AtLength(share * l)
		q := seat.Point(at)
		d := seat.Edge(at.Edge).Direction(at.T)
		for _, dist := range []float64{7, 9.5, 12, 15, 19, 24} {
			for _, turn := range []float64{90, -90, 60, -60, 120, -120, 35, -35, 145, -145} {
				s, k := math.Sincos(turn * math.Pi / 180)
				u := orb.Point{k*d[0] - s*d[1], s*d[0] + k*d[1]}
				c := orb.Point{q[0] + dist*u[0], q[1] + dist*u[1]}
				base := dist + 4*math.Abs(share-0.5) + math.Abs(math.Abs(turn)-90)/45
				if base >= best {
					continue
				}
				cost := base + f.clutter(q, c, texts, func(more float64) bool { return base+more >= best })
				if cost < best {
					best, from, to = cost, q, c
				}
			}
		}
	}
	f.discs = append(f.discs, to)
	f.segments = append(f.segments, [2]orb.Point{from, to})
	d := math.Hypot(to[0]-from[0], to[1]-from[1])
	edge := orb.Point{to[0] - (to[0]-from[0])/d*balloonRadius, to[1] - (to[1]-from[1])/d*balloonRadius}
	f.c.Line(svg.Style{Stroke: svg.Brick, Width: 0.25}, from, edge)
	f.c.Paths(svg.Style{Stroke: svg.Brick, Width: 0.35, Fill: svg.Paper}, geom.Circle(to, balloonRadius))
	f.c.Text(svg.Label{Text: letter, At: orb.Point{to[0], to[1] - 1.25}, Size: 3.5, Anchor: svg.Middle, Bold: true, Colour: svg.Brick})
}

// clutter is what a balloon at c with its line from q would cover. A text or
// another letter under it is worse than any number of lines. Once it is too much the
// rest is not counted.
func (f *free) clutter(q, c orb.Point, texts []orb.Bound, tooMuch func(float64) bool) float64 {
	w, h := f.c.Size()
	cost := 0.0
	if c[0] < margin || c[1] < margin || c[0] > w-margin || c[1] > h-margin {
		cost += 1000
	}
	for _, b := range texts {
		if b.Pad(balloonRadius + 0.6).Contains(c) {
			cost += 500
		}
		for k := 1; k < 8; k++ {
			if t := float64(k) / 8; b.Contains(orb.Point{q[0] + t*(c[0]-q[0]), q[1] + t*(c[1]-q[1])}) {
				cost += 100
				break
			}
		}
	}
	for _, o := range f.discs {
		if planar.Distance(o, c) < 2*balloonRadius+1 {
			cost += 500
		}
	}
	if tooMuch(cost) {
		return cost
	}
	for _, s := range f.segments {
		if planar.DistanceFromSegment(s[0], s[1], c) < balloonRadius+1 {
			if cost += 9; tooMuch(cost) {
				break
			}
		}
		if crosses(q, c, s[0], s[1]) {
			if cost += 3; tooMuch(cost) {
				break
			}
		}
	}
	return cost
}

// crosses tells whether two segments properly cross.
func crosses(a, b, c, d orb.Point) bool {
	side := func(p, q, r orb.Point) float64 { return (q[0]-p[0])*(r[1]-p[1]) - (r[0]-p[0])*(q[1]-p[1]) }
	return side(a, b, c)*side(a, b, d) < -1e-9 && side(c, d, a)*side(c, d, b) < -1e-9
}
