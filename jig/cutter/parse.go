package cutter

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"

	"blockwright/geom"
	"blockwright/jig/source"
)

// SizeMax is the greatest radius and height in mm: far beyond any router cutter,
// so that a slip of the pen or of the units shows. Derived here.
const SizeMax = 500

// PointsMax is the greatest number of points of a profile or a body. A measured
// profile has a few thousand. Derived here.
const PointsMax = 10_000

// Parse reads a cutter from the text of a file. The file's name gives the handle
// and stands in the faults; nothing is opened. The error is a [source.Faults]
// with every fault of the file.
func Parse(name string, text []byte) (*Cutter, error) {
	f := source.Open(name, text)
	s := f.Root()
	sum := sha256.Sum256(text)
	c := &Cutter{Handle: handleOf(name), Hash: hex.EncodeToString(sum[:]), Known: [2]bool{true, true}}
	if !ValidHandle(c.Handle) || !strings.HasSuffix(name, ".toml") {
		f.FaultOf("", fmt.Sprintf("file name %s", clip(c.Handle)), HandleWant+", before .toml")
	}
	if _, ok := s.Need("name", "the cutter's name in quotes"); ok {
		c.Name, _ = s.Label("name", 60)
	}
	if _, ok := s.Need("joint", source.Choice(Joints)); ok {
		c.Joint, _ = s.OneOf("joint", Joints...)
	}
	f.Units = ""
	if _, ok := s.Need("units", `"mm" or "in"`); ok {
		f.Units, _ = s.OneOf("units", "mm", "in")
	}
	c.Units = f.Units
	c.Shank, _ = s.Length("shank", source.Over(0, 50))
	c.MaxRPM, _ = s.Number("max_rpm", source.Range{Max: 100_000, Over: true, Unit: "rpm"})
	if v, ok := s.Get("known"); ok {
		c.Known = known(f, v)
	}
	if t, ok := s.Section("traced"); ok {
		c.Traced = &Traced{}
		c.Traced.Centre, _ = t.Length("centre", source.Within(0, 10))
		if _, ok := t.Need("profile", "how sure the traced profile is, a length"); ok {
			c.Traced.Profile, _ = t.Length("profile", source.Within(0, 10))
		}
		t.Done()
	}
	if v, ok := s.Need("profile", "a list of points [radius, height] or [radius, height, bulge]"); ok {
		c.Profile = readPath(f, v)
	}
	if v, ok := s.Get("body"); ok {
		c.Body = readPath(f, v)
		bodyInside(f, v, c)
	}
	s.Done()
	if faults := f.Faults(); len(faults) > 0 {
		return nil, faults
	}
	return c, nil
}

// known reads the pair of truth values.
func known(f *source.File, v source.Value) [2]bool {
	k := [2]bool{true, true}
	if v.Kind != source.Array || len(v.Items) != 2 {
		f.Fault(v, v.Have(), "two truth values, [radius known, height known]")
		return k
	}
	for i, item := range v.Items {
		if item.Kind != source.Boolean {
			f.Fault(item, item.Have(), "true or false")
			continue
		}
		k[i] = item.Text == "true"
	}
	return k
}

// A point is one item of a path with the values that state it.
type point struct {
	at      source.Value
	r, h, b source.Value // b without a bulge has kind Broken
	v       geom.Vertex
	ok      bool
}

// readPath reads a list of points and checks the path they make. After a fault
// the path is incomplete.
func readPath(f *source.File, v source.Value) geom.Path {
	if v.Kind != source.Array {
		f.Fault(v, v.Have(), "a list of points [radius, height] or [radius, height, bulge]")
		return geom.Path{}
	}
	if len(v.Items) > PointsMax {
		f.Fault(v, fmt.Sprintf("number of points %d", len(v.Items)), fmt.Sprintf("at most %d", PointsMax))
		return geom.Path{}
	}
	pts := make([]point, len(v.Items))
	good := true
	for i, item := range v.Items {
		pts[i] = readPoint(f, item, i == len(v.Items)-1)
		good = good && pts[i].ok
	}
	if len(pts) < 2 {
		f.Fault(v, fmt.Sprintf("number of points %d", len(pts)), "at least 2")
		return geom.Path{}
	}
	turned := heightsFirst(pts)
	for i := range len(pts) - 1 {
		if pts[i].ok && pts[i+1].ok {
			good = checkEdge(f, pts, i, turned) && good
		}
	}
	if !good {
		return geom.Path{}
	}
	if first, last := pts[0], pts[len(pts)-1]; last.v.Y()-first.v.Y() < geom.Tol {
		f.Fault(v, "no height: all points lie at one height", "a last point above the first")
	}
	p := geom.Path{V: make([]geom.Vertex, len(pts))}
	for i := range pts {
		p.V[i] = pts[i].v
	}
	p.V[len(pts)-1].Bulge = 0
	return p
}

// heightsFirst tells whether the first numbers of the points, and not the second
// ones, never fall, as heights do: the pairs are turned round, or the whole list is.
func heightsFirst(pts []point) bool {
	rises, falls := false, false
	for i := range len(pts) - 1 {
		a, b := pts[i], pts[i+1]
		if !a.ok || !b.ok || b.v.X() < a.v.X() {
			return false
		}
		rises, falls = rises || b.v.X() > a.v.X(), falls || b.v.Y() < a.v.Y()
	}
	return rises && falls
}

func readPoint(f *source.File, item source.Value, last bool) point {
	p := point{at: item}
	if item.Kind != source.Array {
		f.Fault(item, item.Have(), "a point [radius, height] or [radius, height, bulge]")
		return p
	}
	if n := len(item.Items); n < 2 || n > 3 {
		f.Fault(item, item.Have(), "2 or 3 numbers: radius, height and perhaps bulge")
		return p
	}
	p.r, p.h = item.Items[0], item.Items[1]
	r, okR := size(f, p.r, source.Within(0, SizeMax))
	h, okH := size(f, p.h, source.Within(-SizeMax, SizeMax))
	p.v = geom.V(r, h)
	p.ok = okR && okH
	if len(item.Items) == 3 {
		p.b = item.Items[2]
		b, ok := f.Number(p.b, source.Within(-1, 1))
		if ok && last && b != 0 {
			f.Fault(p.b, "bulge of the last point, behind which no edge follows", "none")
			ok = false
		}
		p.v.Bulge, p.ok = b, p.ok && ok
	}
	return p
}

// size reads a radius or height. Without known units the shape can still be
// judged, if not the size.
func size(f *source.File, v source.Value, in source.Range) (float64, bool) {
	if f.Units == "" && (v.Kind == source.Integer || v.Kind == source.Float) {
		mm, err := v.Length("mm")
		if err == nil && (mm < 0 && in.Min == 0) {
			f.Fault(v, v.Text, "0 or more")
			return 0, false
		}
		if err == nil {
			return mm, true
		}
	}
	return f.Length(v, in)
}

// checkEdge checks the edge from point i to the next and where it meets the one
// before.
func checkEdge(f *source.File, pts []point, i int, turned bool) bool {
	a, b := pts[i], pts[i+1]
	e := geom.Edge{A: a.v.Point, B: b.v.Point, Bulge: a.v.Bulge}
	if e.Length() < geom.Tol {
		f.Fault(b.at, "the same point as the one before", "points that differ")
		return false
	}
	if e.B[1] < e.A[1] {
		want := "heights that never fall: a straight pass cannot leave an undercut"
		if turned {
			want = "the points from the shank's end upward, each as [radius, height]"
		}
		f.Fault(b.h, fmt.Sprintf("height falls from %s to %s", a.h.Text, b.h.Text), want)
		return false
	}
	if at, falls := e.Falls(); falls {
		f.Fault(a.b, fmt.Sprintf("height falls inside the arc, from h = %.4g mm on", at[1]), "an arc on which height never falls")
		return false
	}
	if q := e.LeastX(); q[0] < -geom.Tol {
		f.Fault(a.b, fmt.Sprintf("arc reaches the radius %.4g mm", q[0]), "a radius of 0 or more all along the arc")
		return false
	}
	if q := e.MostX(); f.Units != "" && q[0] > SizeMax+geom.Tol {
		f.Fault(a.b, fmt.Sprintf("arc reaches the radius %.4g mm", q[0]), fmt.Sprintf("at most %d mm all along the arc", SizeMax))
		return false
	}
	// With h never falling, only level edges can lie on one another.
	if i > 0 && pts[i-1].ok {
		z := pts[i-1].v
		if back := (a.v.X() - z.X()) * (b.v.X() - a.v.X()); back < 0 && z.Bulge == 0 && a.v.Bulge == 0 &&
			a.v.Y()-z.Y() < geom.Tol && b.v.Y()-a.v.Y() < geom.Tol {
			f.Fault(b.at, "the line runs back over itself", "a line that does not cross itself")
			return false
		}
	}
	return true
}

// clip quotes a name, cut where it would fill the line.
func clip(s string) string {
	if len(s) > 60 {
		return fmt.Sprintf("%q…", s[:60])
	}
	return fmt.Sprintf("%q", s)
}
