package plate

import (
	"github.com/paulmach/orb"

	"blockwright/geom"
)

// A Seat is a stretch of the outline that must be right: it touches the cutter,
// the table or the fence.
type Seat struct {
	Name  string
	Path  geom.Path // open, on the outline, travelled with the plate on its left
	Fixes byte      // 'x' or 'z': what it sets on the cutter; 0 for a reference
}

// A Clear is a stretch of the outline that the mill cuts deeper, so that it
// cannot touch before the seats do.
type Clear struct {
	Path geom.Path // open, on the outline, travelled with the plate on its left
	By   float64   // mm
	// Before and After say that the cutter goes on straight beyond the outline's
	// corner at the start and at the end, where the plate's edge turns away.
	Before, After bool
}

// An Ease is a convex corner of the outline whose tip is cut off, or the end of a
// seat that a cleared rounding carries on.
type Ease struct {
	At    orb.Point
	Leg   float64 // mm, along both edges; along the seat alone where Depth is set
	Depth float64 // mm, of the clearance that begins at a seat's smooth end; 0 at a corner
	After bool    // that seat comes after the point, else before it
}

// A Corner is an inside corner of the outline that something with a sharp edge
// enters: the cutter's own corner, or a square-edged plate.
type Corner struct {
	At    orb.Point
	Clear float64 // least distance in mm from the corner to the wall; below it the corner is relieved
}

// A Plate is one flat piece to be cut from sheet.
type Plate struct {
	Kind    string      // the fixture's kind: block, gauge
	Part    string      // plate, crossbar, bar
	Mark    string      // what is engraved on it, lines separated by \n
	Outline geom.Region // nominal, exact
	Drill   []geom.Path // bores: full circles
	Engrave []geom.Path // letters and lines
	Ghost   []geom.Path // only drawn: the cutter in place
	Seats   []Seat
	Clear   []Clear
	Ease    []Ease
	Enter   []Corner
	Hollow  []Hollow
	Pockets []Pocket
	Rooms   []Room
	Bare    []geom.Path // stretches of the outline that get no tab, though they are no seats
}

// A Cut is a plate as a given mill will leave it.
type Cut struct {
	Plate
	Mill float64     // diameter in mm that the mill truly cuts
	Wall geom.Region // what is left; every inside radius is at least Mill/2
	Kept []geom.Path // of each seat the part on which wall and outline are one

	Floors []Pocket // the pockets as this mill clears them
}

// Move is the plate carried by m, which must not reflect.
func (p Plate) Move(m geom.Iso) Plate {
	q := p
	q.Outline = p.Outline.Move(m)
	q.Drill = geom.MoveAll(p.Drill, m)
	q.Engrave = geom.MoveAll(p.Engrave, m)
	q.Ghost = geom.MoveAll(p.Ghost, m)
	q.Seats = make([]Seat, len(p.Seats))
	for i, s := range p.Seats {
		q.Seats[i] = Seat{s.Name, s.Path.Move(m), s.Fixes}
	}
	q.Clear = make([]Clear, len(p.Clear))
	for i, c := range p.Clear {
		q.Clear[i] = c
		q.Clear[i].Path = c.Path.Move(m)
	}
	q.Ease = make([]Ease, len(p.Ease))
	for i, e := range p.Ease {
		q.Ease[i] = e
		q.Ease[i].At = m.Point(e.At)
	}
	q.Enter = make([]Corner, len(p.Enter))
	for i, c := range p.Enter {
		q.Enter[i] = Corner{m.Point(c.At), c.Clear}
	}
	q.Hollow = make([]Hollow, len(p.Hollow))
	for i, h := range p.Hollow {
		q.Hollow[i] = Hollow{h.Region.Move(m), h.Stray}
	}
	q.Pockets = movePockets(p.Pockets, m)
	q.Rooms = make([]Room, len(p.Rooms))
	for i, r := range p.Rooms {
		q.Rooms[i] = Room{r.Swept.Move(m), r.By, r.Depth}
	}
	q.Bare = geom.MoveAll(p.Bare, m)
	return q
}

func movePockets(ps []Pocket, m geom.Iso) []Pocket {
	out := make([]Pocket, len(ps))
	for i, p := range ps {
		out[i] = Pocket{p.Floor.Move(m), p.Depth}
	}
	return out
}

// Move is the cut plate carried by m, which must not reflect.
func (c Cut) Move(m geom.Iso) Cut {
	return Cut{Plate: c.Plate.Move(m), Mill: c.Mill, Wall: c.Wall.Move(m), Kept: geom.MoveAll(c.Kept, m), Floors: movePockets(c.Floors, m)}
}
