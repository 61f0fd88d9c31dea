package adjust

import "math"

// A Witness is the piece that is measured between roughing and finishing, as it was
// planned.
type Witness struct {
	X, Y float64 // mm, across the flats, that a perfect mill leaves
	Mill float64 // mm, diameter that the program reckoned with
	Left float64 // mm, that roughing leaves on the walls
	Play float64 // mm, the most backlash that its flats can show
}

// A Found is what the two sizes of a witness say.
type Found struct {
	Diameter float64 // mm that the mill truly cuts, runout included
	Backlash float64 // mm of motion that an axis loses when it turns
}

const (
	slip  = 0.03 // mm by which two caliper readings may err together: backlash above -slip is none
	spare = 0.02 // mm of roughed wall that must remain to finish
	most  = 1.0  // mm by which a size may miss what was planned
)

// FromWitness takes the two sizes apart.
//
// What they can tell. An axis that loses b at each turn stands b/2 behind the middle
// of its play, in the sense in which it last moved. A mill of true diameter D, driven
// as if it cut d, leaves at one flat, against what was planned, (d-D)/2 outward, and
// b/2 more where its last motion across the flat was towards the piece, b/2 less where
// it was away from it. So across two opposite flats, n being the planned size,
//
//	both approached from outside  n + d - D + b
//	both from inside              n + d - D - b
//	both in the same sense        n + d - D
//
// Walls that are all approached in one sense are moved as one: among them lost motion
// does not show, and no size of theirs tells of it. Two opposite flats approached from
// outside show it in full, but no size alone parts it from the diameter, and two
// pairs approached alike, one across X and one across Y, tell only D - b of each axis.
// So the first program approaches the X flats from outside, by a hop off the wall,
// and the Y flats from inside, as a way round a piece with outside corners comes to
// its sides. With one b for both axes
//
//	x - X = d - D + b        D = d - ((x - X) + (y - Y))/2
//	y - Y = d - D - b        b = ((x - X) - (y - Y))/2
//
// Where the axes lose bx and by, the sizes give D + (by-bx)/2 and (bx+by)/2. The
// finishing program makes up for both and approaches every seat from outside: then
// its X walls, which need D - bx, are right all the same, and its Y walls are off by
// (by-bx)/2, alike to the outside. Two more sizes would be needed for that.
//
// Caliper errors of ±0.01 in each make ±0.01 in D and in b. Derived here.
func FromWitness(n Witness, x, y float64) (Found, error) {
	for _, v := range []struct {
		axis             string
		have, want, swap float64
	}{{"X", x, n.X, n.Y}, {"Y", y, n.Y, n.X}} {
		if err := finite("the size across "+v.axis, v.have); err != nil {
			return Found{}, err
		}
		switch d := math.Abs(v.have - v.want); {
		case d <= most:
		case math.Abs(v.have-v.swap) <= most:
			return Found{}, refuse("the size across %s is %s, which belongs to the other pair of flats: want %s; give X first, then Y", v.axis, v.have, v.want)
		default:
			return Found{}, refuse("the size across %s is %s; a perfect mill leaves %s: want a size within %s of it. Another pair of flats was read, or a chip lay under a jaw", v.axis, v.have, v.want, most)
		}
	}
	u, v := x-n.X, y-n.Y
	f := Found{Diameter: n.Mill - (u+v)/2, Backlash: (u - v) / 2}
	if math.Abs(f.Diameter-n.Mill) > 0.2*n.Mill+0.2 {
		return f, refuse("the sizes say that a mill of %s cuts %s: one was read wrongly, or another mill was used", n.Mill, f.Diameter)
	}
	switch {
	case f.Backlash < -slip:
		return f, refuse("the sizes say that the machine gains %s at each turn, which cannot be: one was read wrongly, the sheet moved between the pairs, or the axes differ in their steps per mm: mill the trial", -f.Backlash)
	case f.Backlash < 0:
		f.Backlash = 0
	case f.Backlash > n.Play:
		return f, refuse("the sizes say that the machine loses %s at each turn; up to %s can be made up for: look for a loose coupling, belt or nut first", f.Backlash, n.Play)
	}
	if left := n.Left - (f.Diameter-n.Mill)/2 - f.Backlash/2; left < spare {
		return f, refuse("the sizes say that the mill cuts %s where %s was reckoned: of the %s that roughing should have left, some walls have %s: want %s or more. Enter %s as the mill's measured diameter in shop.toml and mill anew",
			f.Diameter, n.Mill, n.Left, left, spare, f.Diameter)
	}
	if f.Diameter < n.Mill-2*n.Left {
		return f, refuse("the sizes say that the mill cuts only %s where %s was reckoned; the finishing pass would take %s: look whether the mill is the right one, enter its measured diameter in shop.toml and mill anew",
			f.Diameter, n.Mill, n.Left+(n.Mill-f.Diameter)/2)
	}
	return f, nil
}
