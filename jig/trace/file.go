package trace

import (
	"fmt"
	"math"
	"strconv"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/cutter"
)

// This file answers how a traced profile becomes a cutter's file.

// A Naming is what a cutter's file needs beside the profile. Lengths are mm.
type Naming struct {
	Name, Joint   string
	Shank, MaxRPM float64 // 0 if not stated
	Diameter      float64 // of the cutter where it cut deepest into the board, 0 if not measured
	Top           float64 // of the cutter above the table when it cut the board, 0 if not measured
}

const (
	// rest is the radius in mm of the profile's outermost point where no diameter is
	// known. Any would do.
	rest = 10
	// beyond is how far in mm the outermost edges are carried on past the board's
	// faces: the board was seen to its faces only, and a setting for boards of the
	// same thickness must not fail for a hundredth.
	beyond = 1.0
)

// Cutter is the traced cutter in the cutter's frame: r = x + a shift, h = z, so that a
// height of 0 is the height at which the traced board was cut. The error is a
// *[Refusal] where a caliper size contradicts the scan.
func (r *Result) Cutter(n Naming) (*cutter.Cutter, error) {
	p := r.Profile.Clone()
	c := &cutter.Cutter{
		Name: n.Name, Joint: n.Joint, Units: "mm", Shank: n.Shank, MaxRPM: n.MaxRPM,
		Known:  [2]bool{n.Diameter > 0, n.Top > 0},
		Traced: &cutter.Traced{Centre: micron(r.Sure.Centre), Profile: micron(r.Sure.Profile)},
	}
	most := math.Inf(-1)
	for i := range p.Edges() {
		most = math.Max(most, p.Edge(i).MostX()[0])
	}
	shift := float64(rest)
	if n.Diameter > 0 {
		if shift = n.Diameter/2 - most; shift < 0 {
			return nil, refuse(BadSize, fmt.Sprintf("at least %.2f mm, twice the depth of the cut", 2*most), "a diameter of %.4g mm", n.Diameter)
		}
	}
	top := p.End()[1]
	if n.Top > 0 && n.Top < top-0.05 {
		// The cutter ends within the board: what is above is the board's own end.
		if p = p.Between(0, n.Top); p.Edges() == 0 || p.End()[1] < 1 {
			return nil, refuse(BadSize, fmt.Sprintf("between the table and the board's upper face, %.2f mm, or above", top), "a top of %.4g mm above the table", n.Top)
		}
	} else if n.Joint == "lock-miter" || n.Joint == "edge-glue" {
		p = carryOn(p, shift)
	}
	c.Profile = p.Move(geom.Shift(shift, 0))
	if n.Top > c.Profile.End()[1]+0.05 {
		// What is above the board is there, and nothing is known of it but its top.
		e := c.Profile.End()
		c.Body = geom.Path{V: []geom.Vertex{geom.V(0, e[1]), geom.V(0, n.Top)}}
	}
	for i, v := range c.Profile.V {
		c.Profile.V[i].Point = orb.Point{micron(v.X()), micron(v.Y())}
		c.Profile.V[i].Bulge = math.Round(v.Bulge*1e9) / 1e9
	}
	return c, nil
}

// micron rounds to a tenth of a micrometre, far below what a scan tells.
func micron(v float64) float64 { return math.Round(v*1e4) / 1e4 }

// carryOn carries the first and the last edge on past the board's faces, as far as
// they are straight and steep.
func carryOn(p geom.Path, shift float64) geom.Path {
	p = p.Clone()
	n := p.Edges()
	if e := p.Edge(0); e.Straight() && e.Length() > 1 {
		if d := e.Direction(0); d[1] > 0.3 {
			p.V[0].Point = along(e.A, d, -beyond/d[1])
		}
	}
	if e := p.Edge(n - 1); e.Straight() && e.Length() > 1 {
		if d := e.Direction(1); d[1] > 0.3 {
			if q := along(e.B, d, beyond/d[1]); q[0]+shift > 0 {
				p.V[n].Point = q
			}
		}
	}
	return p
}

// Remarks say what the cutter's file rests on, for the comments in it.
func (r *Result) Remarks(c *cutter.Cutter) []string {
	var out []string
	line := func(format string, a ...any) { out = append(out, fmt.Sprintf(format, a...)) }
	line("Traced from a scan: %d cut %s, %s pixels an inch, board %.3f mm thick.",
		r.Pieces, plural(r.Pieces, "end", "ends"), densityWords(r.DPI), r.Board)
	line("With 95 %% certainty the profile is off by no more than %.3f mm%s.", r.Sure.Profile,
		map[bool]string{true: fmt.Sprintf(", its centre\nby no more than %.3f mm", r.Sure.Centre)}[r.Centre != nil])
	line("The scanner's own error of scale is not in that: measure the board to check it.")
	switch c.Known {
	case [2]bool{false, false}:
		line("A scan shows the cut, not the cutter's axis: radii and heights are off by a shift\neach. Blocks, coupons and joints need no more.")
	case [2]bool{true, false}:
		line("Radii are right by the measured diameter; heights are off by a shift.")
	case [2]bool{false, true}:
		line("Heights are those above the table when the board was cut; radii are off by a shift.")
	default:
		line("Radii are right by the measured diameter. Heights are those above the table when\nthe board was cut.")
	}
	if over := c.Profile.End()[1] - r.Profile.End()[1]; over > 0.1 || c.Profile.Start()[1] < -0.1 {
		line("The outermost edges are carried on by %.0f mm past the board's faces, where the scan\nshows nothing.", beyond)
	}
	if len(c.Body.V) > 0 {
		line("The body says only that something is there, up to the measured top.")
	}
	if c.Shank == 0 || c.MaxRPM == 0 {
		line("Measure the shank and read the speed marked on the cutter; add them as in\n  shank = 12\n  max_rpm = 14000")
	}
	line("Corners of the cut on the board (x into the board, z up), and how sure each is:")
	for _, k := range r.Corners {
		line("  x %7.3f  z %7.3f  ± %.3f mm", k.At[0], k.At[1], k.Sure)
	}
	return out
}

func densityWords(d [2]float64) string {
	x, y := number(math.Round(d[0]*10)/10), number(math.Round(d[1]*10)/10)
	if x == y {
		return x
	}
	return x + " by " + y
}

func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
