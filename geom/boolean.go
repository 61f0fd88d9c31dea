package geom

// Union is the region covered by any of the regions, which may overlap, touch or
// share edges.
//
// Guarantee, of Union, Intersection and Difference alike: outers run
// counter-clockwise, holes clockwise; no path of the result crosses or overlaps
// another or itself, and none passes one point twice; paths may touch in points.
// Lines stay lines and arcs arcs. A vertex of the input that survives keeps its
// digits, and an edge that is not cut keeps its bulge. Every point of the result's
// boundary lies within Tol of the boundaries given. What comes closer than Tol/10
// is made one, and a face thinner than Tol is gone. An edge cut in two by a path
// that does not matter in the end is whole again; so are neighbours in line with
// each other where two of the given paths meet.
//
//	(1) area(Union) + area(Intersection) = area(a) + area(b)
//	(2) Difference(a, b) and Intersection(a, b) make up a
//	(3) the order of the regions, their paths' first vertices and additional
//	    vertices on their edges change no figure
//
// The paths are cut at all their meeting points, coinciding pieces made one, and
// the faces between them labelled by winding numbers; the result's boundary is
// what has the inside on one side only. It is therefore closed in any case. A
// region given need not be clean: what its paths wind round more than zero times
// is inside. A path that is open or a point, or that has a coordinate which is no
// number below 1e9 mm or a bulge beyond 1, bounds nothing.
func Union(rs ...Region) Region {
	a := arrange(rs)
	return a.faces(func(w [2]int32) bool { return w[0] > 0 }).trace()
}

// Intersection is the region covered by both.
func Intersection(a, b Region) Region {
	return arrange([]Region{a}, []Region{b}).faces(func(w [2]int32) bool { return w[0] > 0 && w[1] > 0 }).trace()
}

// Difference is the part of a that none of the others covers.
func Difference(a Region, others ...Region) Region {
	return arrange([]Region{a}, others).faces(func(w [2]int32) bool { return w[0] > 0 && w[1] <= 0 }).trace()
}

// Clean is the region as Union would give it: crossing and overlapping paths
// resolved, turned the right way, slivers gone.
func (r Region) Clean() Region { return Union(r) }
