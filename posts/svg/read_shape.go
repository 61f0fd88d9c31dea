package svg

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// shape reads one element that draws.
func (r *reading) shape(name string, attr map[string]string, m matrix) error {
	t := &tracer{r: r, m: m}
	var n [6]float64
	get := func(keys ...string) error {
		for i, k := range keys {
			s, there := attr[k]
			if !there {
				continue
			}
			if v, err := numberList(s); err == nil && len(v) == 1 {
				n[i] = v[0]
				continue
			}
			v, ok, err := mm(s) // a length with a unit is one of so many pixels
			if err != nil || !ok {
				return r.fault("%s %s; want a number", k, quote(s))
			}
			n[i] = v / pixel
		}
		return nil
	}
	var err error
	switch name {
	case "path":
		err = t.data(attr["d"])
	case "line":
		if err = get("x1", "y1", "x2", "y2"); err == nil {
			t.begin(orb.Point{n[0], n[1]})
			t.line(orb.Point{n[0], n[1]}, orb.Point{n[2], n[3]})
		}
	case "polyline", "polygon":
		var v []float64
		if v, err = numberList(attr["points"]); err == nil && len(v)%2 != 0 {
			err = fmt.Errorf("%d numbers in points; want pairs", len(v))
		}
		if err == nil {
			for i := 0; i+1 < len(v); i += 2 {
				q := orb.Point{v[i], v[i+1]}
				if i == 0 {
					t.begin(q)
				} else {
					t.line(orb.Point{v[i-2], v[i-1]}, q)
				}
			}
			if name == "polygon" && len(v) > 0 {
				t.close()
			}
		}
	case "rect":
		if err = get("x", "y", "width", "height", "rx", "ry"); err == nil && n[2] > 0 && n[3] > 0 {
			if n[4] != 0 || n[5] != 0 {
				r.pic.Skipped = append(r.pic.Skipped, fmt.Sprintf("%d: rect with rounded corners", r.line))
				return nil
			}
			c := [4]orb.Point{{n[0], n[1]}, {n[0] + n[2], n[1]}, {n[0] + n[2], n[1] + n[3]}, {n[0], n[1] + n[3]}}
			t.begin(c[0])
			for i := 1; i < 4; i++ {
				t.line(c[i-1], c[i])
			}
			t.close()
		}
	case "circle", "ellipse":
		keys := []string{"cx", "cy", "rx", "ry"}
		if name == "circle" {
			keys = []string{"cx", "cy", "r"}
		}
		if err = get(keys...); err == nil {
			if name == "circle" {
				n[3] = n[2]
			}
			if n[2] > 0 && n[3] > 0 {
				a, b := orb.Point{n[0] + n[2], n[1]}, orb.Point{n[0] - n[2], n[1]}
				t.begin(a)
				t.arc(a, n[2], n[3], 0, false, true, b)
				t.arc(b, n[2], n[3], 0, false, true, a)
				t.close()
			}
		}
	default:
		return nil
	}
	if err == nil {
		t.end()
		err = t.err
	}
	if err != nil {
		if _, is := err.(*ReadFault); is {
			return err
		}
		return r.fault("%s: %v", name, err)
	}
	return nil
}

// A tracer collects the subpaths of one element.
type tracer struct {
	r       *reading
	m       matrix
	path    geom.Path
	pending bool      // a subpath begins at from as soon as something is drawn
	from    orb.Point // user units
	err     error
}

func (t *tracer) begin(q orb.Point) {
	t.end()
	t.pending, t.from = true, q
}

// put appends an edge that ends at q, in mm.
func (t *tracer) put(q orb.Point, bulge float64) {
	if t.pending {
		t.pending = false
		t.path = geom.Path{V: []geom.Vertex{{Point: t.place(t.from)}}}
	}
	if t.err != nil || len(t.path.V) == 0 {
		return
	}
	if t.r.vertices++; t.r.vertices > maxVertices {
		t.err = t.r.fault("more than %d vertices", maxVertices)
		return
	}
	last := &t.path.V[len(t.path.V)-1]
	if math.Hypot(q[0]-last.X(), q[1]-last.Y()) < 1e-9 {
		return
	}
	last.Bulge = bulge
	t.path.V = append(t.path.V, geom.Vertex{Point: q})
}

func (t *tracer) place(q orb.Point) orb.Point {
	p := t.m.at(q)
	if !(math.Abs(p[0]) <= maxPlace && math.Abs(p[1]) <= maxPlace) && t.err == nil {
		t.err = t.r.fault("a point at (%g, %g) mm; want at most %g", p[0], p[1], maxPlace)
	}
	return p
}

func (t *tracer) line(_, q orb.Point) { t.put(t.place(q), 0) }

// close ends the subpath with a line to its start.
func (t *tracer) close() {
	if t.pending || len(t.path.V) < 2 {
		t.pending = false
		t.path = geom.Path{}
		return
	}
	t.path.Closed = true
	if n := len(t.path.V); n > 2 && math.Hypot(t.path.V[n-1].X()-t.path.V[0].X(), t.path.V[n-1].Y()-t.path.V[0].Y()) < 1e-9 {
		t.path.V = t.path.V[:n-1]
	}
	t.end()
}

func (t *tracer) end() {
	if len(t.path.V) > 1 && t.err == nil {
		if len(t.r.pic.Paths) >= maxShapes {
			t.err = t.r.fault("more than %d shapes", maxShapes)
		}
		t.r.pic.Paths = append(t.r.pic.Paths, Shape{t.path, t.r.line})
	}
	t.path, t.pending = geom.Path{}, false
}
