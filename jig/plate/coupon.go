package plate

import (
	"fmt"
	"math"
	"slices"
	"sort"

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
	for i, p := range r.Setting.Passes {
		end := boardEnd(p.CutLine)
		if len(end.V) < 2 {
			return nil, fmt.Errorf("coupon: the cut line of the %s pass has no length", p.Name)
		}
		all := couponsOf(r, p, end)
		if i > 0 && slices.ContainsFunc(r.Setting.Passes[:i], func(q joint.Pass) bool {
			return q.Height == p.Height && q.Fence == p.Fence && q.Stock == p.Stock && q.Cutter == p.Cutter
		}) {
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
	stock := pass.Stock
	face := down.Bound().Max[0] + couponFace
	far := face + couponGrip
	b := math.Tan(math.Pi / 8)
	v := []geom.Vertex{geom.V(down.End()[0], 0)}
	// Along the lower face to the grip, round it, back along the upper face.
	v = append(v, geom.B(face-fillet, 0, -b), geom.V(face, -fillet))
	v = append(v, geom.B(face, -gripOver+rounding, b), geom.V(face+rounding, -gripOver))
	v = append(v, round(far, -gripOver, rounding, 0)...)
	v = append(v, round(far, stock+gripOver, rounding, 1)...)
	v = append(v, geom.B(face+rounding, stock+gripOver, b), geom.V(face, stock+gripOver-rounding))
	v = append(v, geom.B(face, stock+fillet, -b), geom.V(face-fillet, stock))
	v = append(v, down.V[:len(down.V)-1]...)
	outline, err := geom.NewPath(true, v...)
	if err != nil {
		panic("plate: the coupon's outline has no vertices: " + err.Error())
	}
	p.Outline = geom.Region{outline.Merge()}
	top, foot := down.Start()[0], down.End()[0]
	p.Seats = []Seat{
		{Name: "lower face", Path: line(foot+r.Ease, 0, face-fillet, 0)},
		{Name: "upper face", Path: line(face-fillet, stock, top+r.Ease, stock)},
	}
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
	p.Drill = []geom.Path{geom.Circle(orb.Point{far - holeRoom - holeSize/2, stock + gripOver - holeRoom - holeSize/2}, holeSize/2)}
	p.mark(box{face + 4, -gripOver + 4, far - 4, stock + gripOver - 2*holeRoom - holeSize}, false)
	return p
}
