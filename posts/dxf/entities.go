package dxf

import (
	"math"
	"strings"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// An entity is the groups between two codes 0, sorted by what all kinds share.
type entity struct {
	kind   string
	at     int // line
	layer  string
	fields []group
	flip   bool // extruded along -Z: its own x runs the other way (DXF Reference, arbitrary axis)
	tilted bool // extruded any other way: not in the plane
	hidden bool // in paper space or invisible
}

func (r *reader) entity(g group) entity {
	e := entity{kind: strings.ToUpper(strings.TrimSpace(g.value)), at: g.line, layer: "0", fields: r.fields()}
	normal := [3]float64{0, 0, 1}
	for _, f := range e.fields {
		switch f.code {
		case 8:
			e.layer = r.text(f)
		case 60:
			e.hidden = e.hidden || r.int(f) != 0
		case 67:
			e.hidden = e.hidden || r.int(f) != 0
		case 210, 220, 230:
			normal[f.code/10-21] = r.float(f)
		}
	}
	e.flip = normal[2] < 0
	e.tilted = math.Hypot(normal[0], normal[1]) > 1e-9*math.Abs(normal[2])
	return e
}

// flat are the kinds that are read, curved those that are if curves are wanted; shaped those that draw something a region
// could need but are not read. What is neither is lettering or decoration.
var (
	flat = map[string]bool{
		"LINE": true, "ARC": true, "CIRCLE": true, "LWPOLYLINE": true, "POLYLINE": true, "POINT": true, "TEXT": true,
	}
	curved = map[string]bool{"SPLINE": true, "ELLIPSE": true}
	shaped = map[string]bool{
		"SPLINE": true, "ELLIPSE": true, "INSERT": true, "MLINE": true, "HELIX": true, "REGION": true, "3DFACE": true,
		"SOLID": true, "TRACE": true, "3DSOLID": true, "BODY": true, "MESH": true, "SHAPE": true, "MPOLYGON": true,
	}
)

// drawn tells whether an entity of a block could belong to a region.
func drawn(kind string) bool { return flat[kind] && kind != "TEXT" && kind != "POINT" || shaped[kind] }

func (r *reader) entitySection() {
	r.each(func(g group) {
		r.entities++
		e := r.entity(g)
		var v []geom.Vertex
		if e.kind == "POLYLINE" {
			v = r.polylineVertices()
		}
		switch {
		case e.kind == "SEQEND", e.kind == "VERTEX", e.kind == "ATTRIB":
			return // belongs to an entity before it that was not read
		case e.hidden:
			return
		case e.tilted && e.kind != "LINE" && e.kind != "POINT", !flat[e.kind] && !(r.curves > 0 && curved[e.kind]):
			r.skip(e)
			return
		}
		switch e.kind {
		case "LINE":
			r.straight(e)
		case "ARC", "CIRCLE":
			r.arc(e)
		case "POINT":
			q := r.place(e, 10)
			r.add(e, false, geom.V(q[0], q[1]))
		case "LWPOLYLINE":
			r.lwpolyline(e)
		case "POLYLINE":
			r.polyline(e, v)
		case "TEXT":
			r.lettering(e)
		case "SPLINE":
			r.spline(e)
		case "ELLIPSE":
			r.ellipse(e)
		}
	})
}

func (r *reader) skip(e entity) {
	s := Skip{Kind: e.kind, Layer: e.layer, At: e.at, Shape: shaped[e.kind] || flat[e.kind] && e.kind != "TEXT"}
	if e.kind == "INSERT" {
		for _, f := range e.fields {
			if f.code == 2 {
				s.Inside = r.blocks[strings.ToUpper(r.text(f))]
			}
		}
	}
	r.d.Skipped = append(r.d.Skipped, s)
}

// get is the value of the entity's group of that code, or def.
func (r *reader) get(e entity, code int, def float64) float64 {
	for _, f := range e.fields {
		if f.code == code {
			return r.float(f)
		}
	}
	return def
}

// length is a value in the file's units that has to be there, in mm.
func (r *reader) length(e entity, code int) float64 {
	for _, f := range e.fields {
		if f.code == code {
			return r.mm(f)
		}
	}
	r.fault(e.at, "%s without group %d", e.kind, code)
	return 0
}

func (r *reader) mm(f group) float64 {
	v := r.float(f) * r.scale
	if math.Abs(v) > limit {
		r.fault(f.line+1, "group %d is %s, %g mm; want at most %g mm", f.code, quote(f.value), v, limit)
		return 0
	}
	return v
}

func (r *reader) place(e entity, code int) orb.Point {
	return orb.Point{r.length(e, code), r.length(e, code+10)}
}

// add puts a path on the entity's layer.
func (r *reader) add(e entity, closed bool, v ...geom.Vertex) {
	if e.flip && e.kind != "LINE" && e.kind != "POINT" { // those two are in world coordinates
		for i := range v {
			v[i].Point[0], v[i].Bulge = -v[i].Point[0], -v[i].Bulge
		}
	}
	p, err := geom.NewPath(closed, v...)
	if err != nil {
		r.fault(e.at, "%s: %v", e.kind, err)
		return
	}
	for _, q := range p.V { // a great bulge reaches far
		if !(math.Abs(q.X()) <= limit && math.Abs(q.Y()) <= limit) {
			r.fault(e.at, "%s reaches (%.4g, %.4g); want at most %g mm", e.kind, q.X(), q.Y(), limit)
			return
		}
	}
	l := r.on(e.layer, e.at)
	l.Paths = append(l.Paths, Path{p, e.at, r.elevation(e)})
}

// elevation is the entity's height over the plane: its own group in an LWPOLYLINE,
// the z of its first point elsewhere (DXF Reference). Seen from below it counts down.
func (r *reader) elevation(e entity) float64 {
	code := 30
	if e.kind == "LWPOLYLINE" {
		code = 38
	}
	for _, f := range e.fields {
		if f.code == code {
			if z := r.mm(f); e.flip && e.kind != "LINE" && e.kind != "POINT" {
				return -z
			} else {
				return z
			}
		}
	}
	return 0
}

func (r *reader) straight(e entity) {
	a, b := r.place(e, 10), r.place(e, 11)
	if !near(a, b, 0) { // of no length: some programs leave them behind
		r.add(e, false, geom.V(a[0], a[1]), geom.V(b[0], b[1]))
	}
}

// arc reads ARC and CIRCLE. Angles are degrees, counter-clockwise.
func (r *reader) arc(e entity) {
	c, rad := r.place(e, 10), r.length(e, 40)
	if !(rad > 0) {
		r.fault(e.at, "%s with radius %g; want more than 0", e.kind, rad)
		return
	}
	if e.kind == "CIRCLE" {
		if e.flip {
			c[0] = -c[0]
		}
		l := r.on(e.layer, e.at)
		l.Circles = append(l.Circles, Circle{c, rad, e.at, r.elevation(e)})
		return
	}
	from := math.Mod(r.get(e, 50, 0), 360)
	sweep := math.Mod(r.get(e, 51, 360)-from, 360)
	if sweep <= 0 {
		sweep += 360 // equal angles: the whole circle
	}
	if sweep == 360 {
		r.add(e, true, geom.B(c[0]+rad, c[1], 1), geom.B(c[0]-rad, c[1], 1))
		return
	}
	at := func(deg, bulge float64) geom.Vertex {
		s, k := math.Sincos(radians(deg))
		return geom.B(c[0]+rad*k, c[1]+rad*s, bulge)
	}
	if sweep <= 180 {
		r.add(e, false, at(from, math.Tan(radians(sweep)/4)), at(from+sweep, 0))
		return
	}
	b := math.Tan(radians(sweep) / 8)
	r.add(e, false, at(from, b), at(from+sweep/2, b), at(from+sweep, 0))
}

func (r *reader) lwpolyline(e entity) {
	var v []geom.Vertex
	closed, want := false, -1
	for _, f := range e.fields {
		switch f.code {
		case 90:
			want = r.int(f)
		case 70:
			closed = r.int(f)&1 != 0
		case 10:
			v = append(v, geom.V(r.mm(f), math.NaN()))
		case 20, 42:
			if len(v) == 0 {
				r.fault(f.line, "group %d before the first vertex (group 10)", f.code)
				return
			}
			if f.code == 20 {
				v[len(v)-1].Point[1] = r.mm(f)
			} else {
				v[len(v)-1].Bulge = r.float(f)
			}
		}
	}
	if want >= 0 && want != len(v) {
		r.fault(e.at, "LWPOLYLINE says %d vertices and has %d", want, len(v))
		return
	}
	for i := range v {
		if math.IsNaN(v[i].Y()) {
			r.fault(e.at, "LWPOLYLINE: vertex %d has no group 20", i)
			return
		}
	}
	r.vertices += len(v)
	if len(v) > 0 {
		r.add(e, closed, v...)
	}
}

// polylineVertices reads the VERTEX entities that follow a POLYLINE, to its
// SEQEND.
func (r *reader) polylineVertices() []geom.Vertex {
	var out []geom.Vertex
	for {
		g, ok := r.next()
		if !ok {
			return out
		}
		switch {
		case g.code == 0 && is(g, "VERTEX"):
			r.vertices++
			if r.tooMuch() {
				return out
			}
			if p := r.entity(g); int(r.get(p, 70, 0))&flagFrame == 0 {
				q := r.place(p, 10)
				out = append(out, geom.B(q[0], q[1], r.get(p, 42, 0)))
			}
		case g.code == 0 && is(g, "SEQEND"):
			r.fields()
			return out
		default:
			r.fault(g.line, "%s among the vertices of a POLYLINE; want VERTEX or SEQEND", quote(g.value))
			r.back(g)
			return out
		}
	}
}

// The flags of POLYLINE and VERTEX, group 70 (DXF Reference).
const (
	flagClosed  = 1
	flagNotFlat = 8 | 16 | 64 // 3D polyline, mesh, polyface
	flagFrame   = 16          // vertex of a spline's frame, not of its curve
)

func (r *reader) polyline(e entity, v []geom.Vertex) {
	flags := int(r.get(e, 70, 0))
	if flags&flagNotFlat != 0 {
		r.skip(e)
		return
	}
	if len(v) > 0 {
		r.add(e, flags&flagClosed != 0, v...)
	}
}

func (r *reader) lettering(e entity) {
	t := Text{Place: r.place(e, 10), Height: r.length(e, 40), Angle: radians(r.get(e, 50, 0)), At: e.at}
	if e.flip {
		t.Place[0] = -t.Place[0]
	}
	for _, f := range e.fields {
		if f.code == 1 {
			t.Text = r.lettered(f.value)
		}
	}
	l := r.on(e.layer, e.at)
	l.Texts = append(l.Texts, t)
}
