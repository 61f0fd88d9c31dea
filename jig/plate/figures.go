package plate

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/joint"
)

// Figures are what a block does, computed from its wall held against the cutter.
type Figures struct {
	// What the setting is off by, in mm of height and of exposure, for each
	// 0.1 mm by which the mill cuts more than its stated diameter.
	PerTool  [2]float64
	Standoff []Standoff
	Shims    []Shim
}

// A Standoff is the gap in mm left at the fence when the block is slid home
// against a cutter that is DZ too high (below 0: too low) and E too far out.
type Standoff struct{ DZ, E, Gap float64 }

// A Shim under the block and another between block and fence make it right for a
// thicker board: T + 2q. Both the height and the fence move by the shim.
type Shim struct{ Thick, Stock float64 }

// Measure computes the figures of a block's upright plate for the pass it is made
// for. thickest is the thickest stock that the joint allows.
func Measure(c Cut, p joint.Pass, thickest float64) (Figures, error) {
	b := newBench(c.Wall, c.Kept, p)
	fence := c.fixing('x')
	var f Figures
	for _, w := range [2]float64{-0.05, 0.05} {
		// A mill that cuts 2w more than stated leaves every wall, the table edge
		// and the ear too, w too far in: the block sits w lower and nearer.
		wall, err := c.Wall.Offset(-w)
		if err != nil {
			return f, fmt.Errorf("%s: figures: %w", c.Part, err)
		}
		shift := geom.Shift(-w, -w)
		kept := geom.MoveAll(c.Kept, shift)
		seat, err := fence.Offset(w)
		if err != nil {
			return f, fmt.Errorf("%s: figures: %w", c.Part, err)
		}
		for i := range seat {
			seat[i] = seat[i].Move(shift)
		}
		dz, e := newBench(wall.Move(shift), kept, p).settle(newBench(geom.Region(seat), seat, p))
		if math.Abs(dz) > math.Abs(f.PerTool[0]) {
			f.PerTool[0] = dz
		}
		if math.Abs(e) > math.Abs(f.PerTool[1]) {
			f.PerTool[1] = e
		}
	}
	f.Standoff = b.standoffs(0.05)
	f.Shims = Shims(p, thickest, 0.5)
	return f, nil
}

// Standoffs are the gaps that a block's upright plate, as the mill leaves it, shows at
// the fence with the cutter up to two steps too low or too high and the fence up to two
// too far back.
func Standoffs(c Cut, p joint.Pass, step float64) []Standoff {
	return newBench(c.Wall, c.Kept, p).standoffs(step)
}

func (b bench) standoffs(step float64) []Standoff {
	var out []Standoff
	for dz := -2; dz <= 2; dz++ {
		for e := range 3 {
			o := Standoff{DZ: float64(dz) * step, E: float64(e) * step}
			o.Gap = math.Max(0, b.overlap(o.DZ, o.E))
			out = append(out, o)
		}
	}
	return out
}

// GapAtFence is the gap in mm that a block's upright plate, as the mill leaves it,
// shows at the fence when it is slid home against a cutter that is dz mm too high, the
// fence being right: [Figures.Standoff] for any dz. 0 where the cutter is too low.
func GapAtFence(c Cut, p joint.Pass) func(dz float64) float64 {
	b := newBench(c.Wall, c.Kept, p)
	return func(dz float64) float64 { return math.Max(0, b.overlap(dz, 0)) }
}

// shimMost is the thickest shim in mm worth a line: a thicker one is a block of its
// own.
const shimMost = 3.0

// Shims are the shims in steps of so much, and the stock that a block sets with them.
func Shims(p joint.Pass, thickest, step float64) []Shim {
	var out []Shim
	for k := 1; float64(k)*step <= shimMost+geom.Tol; k++ {
		q := float64(k) * step
		if p.Stock+2*q > thickest+geom.Tol {
			break
		}
		out = append(out, Shim{q, p.Stock + 2*q})
	}
	return out
}

// fixing is what is kept of the seat that fixes the axis, 'x' or 'z'.
func (c Cut) fixing(axis byte) geom.Path {
	for i, s := range c.Seats {
		if s.Fixes == axis {
			return c.Kept[i]
		}
	}
	return geom.Path{}
}

// A bench holds a cutter's profile at its right setting against a block's wall.
type bench struct {
	profile, wall []rung
	heights       []float64 // z at which the two may touch
}

// A rung is an edge ready to be asked for its x at a height.
type rung struct {
	geom.Edge
	lo, hi float64 // z it covers
	rise   float64 // dx/dz of a line, 0 of a level one
	arc    bool
	centre orb.Point
	radius float64
}

func newRung(e geom.Edge) rung {
	b := e.Bound()
	r := rung{Edge: e, lo: b.Min[1], hi: b.Max[1]}
	if !e.Straight() {
		r.arc = true
		r.centre, r.radius = e.Arc()
	} else if e.A[1] != e.B[1] {
		r.rise = (e.B[0] - e.A[0]) / (e.B[1] - e.A[1])
	}
	return r
}

// newBench keeps what can touch: edges between the table and the stock's top.
// They touch at a vertex of one of them or along a seat; an arc that is neither
// seat nor profile is a relief or a fillet and lies behind.
func newBench(wall geom.Region, kept []geom.Path, p joint.Pass) bench {
	var b bench
	use := func(to *[]rung, path geom.Path, arcs int) {
		for i := range path.Edges() {
			e := path.Edge(i)
			r := newRung(e)
			if r.hi < -1 || r.lo > p.Stock+1 {
				continue
			}
			if to != nil {
				*to = append(*to, r)
			}
			n := 1
			if !e.Straight() {
				n = arcs
			}
			for k := 0; k <= n; k++ {
				b.heights = append(b.heights, e.At(float64(k) / float64(n))[1])
			}
		}
	}
	use(&b.profile, p.Profile(), 32)
	for _, w := range wall {
		use(&b.wall, w, 1)
	}
	for _, k := range kept {
		use(nil, k, 32)
	}
	slices.Sort(b.heights)
	b.heights = slices.CompactFunc(b.heights, func(x, y float64) bool { return math.Abs(y-x) < 1e-12 })
	return b
}

// overlap is how far in mm a block slid home would have to stand off the fence:
// the greatest x by which the cutter, dz too high and e too far out, reaches past
// the block's wall at any height; negative where it stays clear.
//
// The cutter takes all x below its cut line, so it clears the wall just where at
// every height it stays left of the wall's first point from the left.
func (b bench) overlap(dz, e float64) float64 {
	worst := math.Inf(-1)
	for _, h := range b.heights {
		for _, z := range [4]float64{h - 1e-9, h + 1e-9, h + dz - 1e-9, h + dz + 1e-9} {
			wall, cut := math.Inf(1), math.Inf(-1)
			each(b.wall, z, func(x float64) { wall = math.Min(wall, x) })
			each(b.profile, z-dz, func(x float64) { cut = math.Max(cut, x) })
			if !math.IsInf(wall, 0) && !math.IsInf(cut, 0) {
				worst = math.Max(worst, cut+e-wall)
			}
		}
	}
	return worst
}

// settle sets a cutter by the block as one does at the table, and says by how much
// it ends too high and too far out: so that the fence seat touches, and the height
// seat begins to. fence holds the cutter against the fence seat alone.
//
// Where the height seat is a line the overlap grows steadily with the height above
// there, and leads back to it. A level seat makes it jump, a curved one makes it
// bend: then the height is halved out.
func (b bench) settle(fence bench) (dz, e float64) {
	held := func(dz float64) bool { return b.overlap(dz, 0) > fence.overlap(dz, 0)+1e-7 }
	e = -fence.overlap(-0.2, 0)
	hi, lo := 0.2, 0.1
	for range 4 {
		g1, g0 := b.overlap(hi, e), b.overlap(lo, e)
		if !(g1 > g0) {
			break
		}
		dz = lo - g0*(hi-lo)/(g1-g0)
		step := (lo - dz) / 10
		hi, lo = dz+2*step, dz+step
	}
	const near = 1e-6
	if !(math.Abs(dz) < 0.2) || held(dz-near) || !held(dz+near) {
		lo, hi = -0.2, 0.2
		for hi-lo > near/10 {
			if mid := (lo + hi) / 2; held(mid) {
				hi = mid
			} else {
				lo = mid
			}
		}
		dz = hi
	}
	return dz, -fence.overlap(dz, 0)
}

// each yields the x at which the edges pass the height z.
func each(edges []rung, z float64, yield func(x float64)) {
	for i := range edges {
		e := &edges[i]
		switch {
		case z < e.lo || z > e.hi:
		case !e.arc && e.A[1] == e.B[1]:
			yield(e.A[0])
			yield(e.B[0])
		case !e.arc:
			yield(e.A[0] + (z-e.A[1])*e.rise)
		default:
			h := math.Sqrt(math.Max(0, e.radius*e.radius-(z-e.centre[1])*(z-e.centre[1])))
			for _, x := range [2]float64{e.centre[0] - h, e.centre[0] + h} {
				if e.Dist(orb.Point{x, z}) < 1e-9 {
					yield(x)
				}
			}
		}
	}
}
