package plate

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/joint"
	"blockwright/jig/shop"
)

// The gauge's own measures in mm: common practice, no source.
const (
	noseWidth = 15.0 // least flat width of the nose
	footRest  = 20.0 // of each foot on its half of the fence
	footGap   = 1.0  // between the fence opening's edge and the foot
	recess    = 5.0  // of the back edge between nose and feet
	barBack   = 25.0 // of material behind the recess
	fillet    = 3.5  // radius of free inside corners: any mill up to 7 leaves it as drawn
)

// GaugeRequest asks for a fence-offset gauge.
type GaugeRequest struct {
	Pass   joint.Pass
	Table  shop.Table
	Thick  float64      // measured thickness of the sheet, mm
	Sheets []shop.Sheet // whose offcuts can support the gauge
	From   string       // "pin" or "cutter"
	Mark   string
}

// A Contact says what a gauge's nose touches.
type Contact struct {
	From    string  // pin or cutter
	X       float64 // of the nose in front of the fence face, mm
	Pin     float64 // the pin's diameter, 0 for the cutter
	Support string  // what the gauge lies on
	Rests   float64 // height of the support above the table
	Change  float64 // greatest change of X while the cutter is 0.5 too high or too low
}

// Gauge designs the fence-offset gauge: a flat bar across the fence opening with
// two feet against the fence and one flat nose. With a pin in the collet the nose
// stands at p - D, p half the pin's diameter, whatever the height. From the
// cutter it stands at the greatest x of the cut line over the band of heights
// that the bar's thickness covers; see [touch].
func Gauge(r GaugeRequest) (Plate, Contact, error) {
	var c Contact
	switch r.From {
	case "pin":
		if r.Table.Pin <= 0 {
			return Plate{}, c, fmt.Errorf("gauge: the shop states no setup pin; use --from cutter or set table.pin")
		}
		c = Contact{From: "pin", Pin: r.Table.Pin, X: r.Table.Pin/2 - r.Pass.Fence, Support: "the table"}
	case "cutter":
		c = touch(r)
		if math.IsInf(c.X, 0) {
			return Plate{}, c, fmt.Errorf("gauge: no support puts the gauge at a height where the cutter stands out of the fence")
		}
	default:
		return Plate{}, c, fmt.Errorf("gauge: it measures from pin or cutter, not %q", r.From)
	}
	if wide := r.Table.FenceWidth - noseWidth - 2; c.X < 0 && wide <= 0 {
		return Plate{}, c, joint.Refuse("gauge: the nose is %s wide and does not enter the fence opening of %s: open the fence and state it in shop.toml", noseWidth, r.Table.FenceWidth)
	}
	if math.Abs(c.X) > 100 {
		return Plate{}, c, joint.Refuse("gauge: the nose would stand %s from the fence face; more than %s makes no gauge", c.X, 100.0)
	}
	return gaugeBar(r, c.X), c, nil
}

// gaugeBar is the bar with its nose at x.
func gaugeBar(r GaugeRequest, x float64) Plate {
	p := Plate{Kind: "gauge", Part: "bar", Mark: r.Mark}
	in := r.Table.FenceWidth/2 + footGap
	out := in + footRest
	back := math.Max(x, 0) + recess
	front := back + barBack
	half := noseWidth / 2
	// Downwards along the back edge, then counter-clockwise round.
	v := []geom.Vertex{geom.V(0, out), geom.V(0, in)}
	v = append(v, hollow(back, in, true)...)
	v = append(v, hollow(back, half, false)...)
	v = append(v, geom.V(x, half), geom.V(x, -half))
	v = append(v, hollow(back, -half, true)...)
	v = append(v, hollow(back, -in, false)...)
	v = append(v, geom.V(0, -in), geom.V(0, -out))
	v = append(v, round(front, -out, rounding, 0)...)
	v = append(v, round(front, out, rounding, 1)...)
	outline, err := geom.NewPath(true, v...)
	if err != nil {
		panic("plate: the gauge's outline has no vertices: " + err.Error())
	}
	p.Outline = geom.Region{outline.Merge()}
	p.Seats = []Seat{
		{Name: "foot", Path: line(0, out, 0, in)},
		{Name: "nose", Path: line(x, half, x, -half), Fixes: 'x'},
		{Name: "foot", Path: line(0, -in, 0, -out)},
	}
	hole := orb.Point{front - holeRoom - holeSize/2, out - holeRoom - holeSize/2}
	p.Drill = []geom.Path{geom.Circle(hole, holeSize/2)}
	p.Engrave = []geom.Path{line(math.Max(x, 0)+recess+2, 0, front-2, 0)}
	p.mark(box{back + 3, 8, front - 3, hole[1] - holeSize/2 - 4}, true)
	return p
}

// touch finds what a flat gauge of the sheet's thickness touches on the cutter,
// and on which support the height of the cutter matters least: the table, a
// piece of the stock or an offcut of a sheet. The gauge covers the heights from
// the support's top to its own; it touches at the greatest x there. Where that
// stays the same for every height error of ±0.5 mm the height does not matter.
func touch(r GaugeRequest) Contact {
	supports := []Contact{{Support: "the table"}, {Support: "a piece of the stock", Rests: r.Pass.Stock}}
	for _, s := range r.Sheets {
		supports = append(supports, Contact{Support: fmt.Sprintf("an offcut of %s", s.Name), Rests: s.Thick()})
	}
	best := Contact{X: math.Inf(-1), Change: math.Inf(1)}
	for _, c := range supports {
		c.From = "cutter"
		c.X = greatest(r.Pass, c.Rests, c.Rests+r.Thick)
		if math.IsInf(c.X, 0) || c.X < -100 {
			continue
		}
		for k := -50; k <= 50; k++ {
			dz := float64(k) / 100
			c.Change = math.Max(c.Change, math.Abs(greatest(r.Pass, c.Rests-dz, c.Rests+r.Thick-dz)-c.X))
		}
		if c.Change < best.Change-geom.Tol || c.Change < best.Change+geom.Tol && c.X > best.X+geom.Tol {
			best = c
		}
	}
	return best
}

// greatest is the greatest x of the cutter at its right height over the band
// z0 ≤ z ≤ z1; -Inf where the cutter does not reach it.
func greatest(p joint.Pass, z0, z1 float64) float64 {
	x := math.Inf(-1)
	profile := p.Profile()
	for i := range profile.Edges() {
		for _, above := range splitAt(profile.Edge(i), 1, z0) {
			for _, e := range splitAt(above, 1, z1) {
				if z := e.At(0.5)[1]; z0-geom.Tol <= z && z <= z1+geom.Tol {
					x = math.Max(x, e.Bound().Max[0])
				}
			}
		}
	}
	return x
}

// hollow is an inside corner of the back edge, rounded by fillet, where the
// lines X = x and Y = y meet. The edge runs downward: it comes across along Y = y
// and goes on down, or comes down and goes on across.
func hollow(x, y float64, comesAcross bool) []geom.Vertex {
	b := -math.Tan(math.Pi / 8)
	if comesAcross {
		return []geom.Vertex{geom.B(x-fillet, y, b), geom.V(x, y-fillet)}
	}
	return []geom.Vertex{geom.B(x, y+fillet, b), geom.V(x-fillet, y)}
}
