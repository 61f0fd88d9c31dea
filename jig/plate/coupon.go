package plate

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/joint"
)

// The coupon's own measures in mm: common practice, no source.
const (
	couponFace = 30.0 // length of the faces behind the cut, to read steps on
	couponGrip = 34.0 // length of the grip behind them
	gripOver   = 16.0 // by which the grip stands over the faces on each side
)

// CouponRequest asks for the ideal halves of a joint.
type CouponRequest struct {
	Setting *joint.Setting
	Clear   float64 // clearance of cut-line edges too short to seat, mm
	Ease    float64 // leg of eased corners, mm
	Mark    string
}

// Coupons designs the ideal halves of a joint as mates for routed test pieces: the
// end section of each board as the right setting leaves it, with a grip behind it.
// A piece routed in one pass, laid into the other pass's coupon, shows the error of
// its height as a step of the faces and that of its fence as a gap or a step too.
//
// Every edge of the cut line that keeps 2 mm is a seat. Each design returned has
// fewer of them than the one before, the shortest given up first, for mills that
// cannot reach them all.
func Coupons(r CouponRequest) ([][]Plate, error) {
	var passes [][]couponPlate
	most := 0
	same := func(p, q joint.Pass) bool {
		return q.Height == p.Height && q.Fence == p.Fence && q.Stock == p.Stock && q.Cutter == p.Cutter
	}
	mark := r.Mark
	apart := slices.ContainsFunc(r.Setting.Passes, func(p joint.Pass) bool { return !same(p, r.Setting.Passes[0]) })
	for i, p := range r.Setting.Passes {
		if apart { // each coupon says whose it is
			r.Mark = mark + "\n" + strings.ToUpper(p.Name)
		}
		end := boardEnd(p.CutLine, p.Stock)
		if p.Lies == joint.Upright {
			end = uprightEnd(p)
		}
		if len(end.V) < 2 {
			return nil, fmt.Errorf("coupon: the cut line of the %s pass has no length", p.Name)
		}
		all := couponsOf(r, p, end)
		if slices.ContainsFunc(r.Setting.Passes[:i], func(q joint.Pass) bool { return same(p, q) }) {
			continue // the same section again: one coupon mates both
		}
		passes = append(passes, all)
		most = max(most, len(all))
	}
	var out [][]Plate
	for k := range most {
		var design []Plate
		for _, all := range passes {
			design = append(design, all[min(k, len(all)-1)].Plate)
		}
		out = append(out, design)
	}
	return out, nil
}

type couponPlate struct{ Plate }

// couponsOf is one board's coupon with ever fewer seats.
func couponsOf(r CouponRequest, p joint.Pass, end geom.Path) []couponPlate {
	down := end.Reverse()
	var edges []geom.Edge
	for i := range down.Edges() {
		if e := down.Edge(i); e.Length() >= MinSeat {
			edges = append(edges, e)
		}
	}
	sort.SliceStable(edges, func(i, j int) bool { return edges[i].Length() > edges[j].Length()+geom.Tol })
	var out []couponPlate
	for n := len(edges); n > 0; n-- {
		out = append(out, couponPlate{coupon(r, p, down, edges[:n])})
	}
	if len(out) == 0 {
		out = append(out, couponPlate{coupon(r, p, down, nil)})
	}
	return out
}

func coupon(r CouponRequest, pass joint.Pass, down geom.Path, seats []geom.Edge) Plate {
	p := Plate{Kind: "coupon", Part: pass.Name, Mark: r.Mark}
	var rest []geom.Vertex
	var grip box
	if pass.Lies == joint.Upright {
		rest, grip = uprightRest(&p, pass, down, r.Ease)
	} else {
		rest, grip = flatRest(&p, pass, down, r.Ease)
	}
	outline, err := geom.NewPath(true, append(rest, down.V[:len(down.V)-1]...)...)
	if err != nil {
		panic("plate: the coupon's outline has no vertices: " + err.Error())
	}
	p.Outline = geom.Region{outline.Merge()}
	for i, e := range seats {
		p.Seats = append(p.Seats, Seat{Name: fmt.Sprintf("cut %d", i+1), Path: pathOf(e)})
	}
	p.cutLine(down, func(e geom.Edge) bool {
		for _, s := range seats {
			if _, d, _ := s.Nearest(e.At(0.5)); d < geom.Tol {
				return true
			}
		}
		return false
	}, r.Clear, r.Ease)
	hole := orb.Point{grip.x1 - holeRoom - holeSize/2, grip.y1 - holeRoom - holeSize/2}
	p.Drill = []geom.Path{geom.Circle(hole, holeSize/2)}
	p.mark(box{grip.x0 + 4, grip.y0 + 4, grip.x1 - 4, hole[1] - holeSize/2 - 2}, false)
	return p
}

// flatRest is the outline of a flat board's coupon behind the cut, from the foot of
// the cut line round the grip to its top, and the grip's box.
func flatRest(p *Plate, pass joint.Pass, down geom.Path, ease float64) ([]geom.Vertex, box) {
	stock := pass.Stock
	face := down.Bound().Max[0] + couponFace
	g := box{face, -gripOver, face + couponGrip, stock + gripOver}
	b := math.Tan(math.Pi / 8)
	foot, top := down.End()[0], down.Start()[0]
	v := []geom.Vertex{geom.V(foot, 0)}
	v = append(v, geom.B(face-fillet, 0, -b), geom.V(face, -fillet))
	v = append(v, geom.B(face, g.y0+rounding, b), geom.V(face+rounding, g.y0))
	v = append(v, round(g.x1, g.y0, rounding, 0)...)
	v = append(v, round(g.x1, g.y1, rounding, 1)...)
	v = append(v, geom.B(face+rounding, g.y1, b), geom.V(face, g.y1-rounding))
	v = append(v, geom.B(face, stock+fillet, -b), geom.V(face-fillet, stock))
	p.Seats = []Seat{
		{Name: "lower face", Path: line(foot+ease, 0, face-fillet, 0)},
		{Name: "upper face", Path: line(face-fillet, stock, top+ease, stock)},
	}
	return v, g
}

// uprightRest is the same for a board that stands on its end.
func uprightRest(p *Plate, pass joint.Pass, down geom.Path, ease float64) ([]geom.Vertex, box) {
	stock := pass.Stock
	top := down.Start()[1]
	face := top + couponFace
	g := box{-gripOver, face, stock + gripOver, face + couponGrip}
	b := math.Tan(math.Pi / 8)
	foot := down.End()
	v := []geom.Vertex{{Point: foot}}
	right := foot[1] // where the outside face begins
	if foot[0] < stock-geom.Tol {
		v = append(v, geom.V(stock, foot[1]))
	}
	v = append(v, geom.B(stock, face-fillet, -b), geom.V(stock+fillet, face))
	v = append(v, geom.B(g.x1-rounding, face, b), geom.V(g.x1, face+rounding))
	v = append(v, round(g.x1, g.y1, rounding, 1)...)
	v = append(v, geom.B(g.x0+rounding, g.y1, b), geom.V(g.x0, g.y1-rounding))
	v = append(v, geom.B(g.x0, face+rounding, b), geom.V(g.x0+rounding, face))
	v = append(v, geom.B(-fillet, face, -b), geom.V(0, face-fillet))
	p.Seats = []Seat{
		{Name: "outside face", Path: line(stock, right+ease, stock, face-fillet)},
		{Name: "inside face", Path: line(0, face-fillet, 0, top+ease)},
	}
	return v, g
}

// uprightEnd is the end of an upright board, stock thick, upward: the cut line from
// the lowest point that is left of the board to the height at which the cutter
// leaves it.
func uprightEnd(p joint.Pass) geom.Path {
	profile := p.Profile().Between(0, math.Inf(1))
	var v []geom.Vertex
	for i := range profile.Edges() {
		for _, in := range splitAt(profile.Edge(i), 0, 0) {
			for _, e := range splitAt(in, 0, p.Stock) {
				if x := e.At(0.5)[0]; x > geom.Tol && x < p.Stock-geom.Tol {
					v = append(v, geom.Vertex{Point: e.A, Bulge: e.Bulge}, geom.Vertex{Point: e.B})
				}
			}
		}
	}
	if len(v) == 0 {
		return geom.Path{}
	}
	if to := v[len(v)-1]; to.X() > geom.Tol {
		v = append(v, geom.V(0, to.Y())) // above the cutter the board is whole
	}
	path, err := geom.NewPath(false, v...)
	if err != nil {
		return geom.Path{}
	}
	return path.Merge()
}
