package adjust

import "math"

// Nominal is what a trial piece was drawn with.
type Nominal struct {
	Big, Small, Window float64 // mm
	Corner             float64 // mm, radius of the outside corners
	Mill               float64 // mm, diameter that the program reckoned with
}

// An Axis is what calipers read along one axis.
type Axis struct{ Big, Small, Window float64 }

// A Machine is what one axis of the machine does.
type Machine struct {
	Scale    float64 // travel for each mm commanded; steps per mm are to be divided by it
	Backlash float64 // mm of motion lost at each turn
	Diameter float64 // mm that the mill truly cuts, as seen along this axis
}

// A Trial is what the sizes of a trial piece say.
type Trial struct {
	X, Y     Machine
	Diameter float64 // mm, mean of both axes
	Skew     float64 // radians, how far the angle between the axes is from a right one, positive where it is smaller; NaN without diagonals
}

// FromTrial takes the sizes of a trial piece apart. Along an axis that travels s mm
// for each commanded and loses b at each turn, a mill that cuts D, driven as if it
// cut d, leaves
//
//	outside of N   s(N + d) - b - D
//	window of N    s(N - d) - b + D
//
// so two outsides give s, an outside and a window b and D. rising is the diagonal
// from lower left to upper right over the big square's rounded corners, falling
// the other; zero where they were not read. Derived here.
func FromTrial(n Nominal, x, y Axis, rising, falling float64) (Trial, error) {
	var t Trial
	var err error
	if t.X, err = axis("x", n, x); err != nil {
		return t, err
	}
	if t.Y, err = axis("y", n, y); err != nil {
		return t, err
	}
	t.Diameter = (t.X.Diameter + t.Y.Diameter) / 2
	if d := math.Abs(t.X.Diameter - t.Y.Diameter); d > 0.1 {
		return t, refuse("the sizes along x say that the mill cuts %s, those along y %s: one was read wrongly, or the sheet moved", t.X.Diameter, t.Y.Diameter)
	}
	t.Skew = math.NaN()
	if rising == 0 && falling == 0 {
		return t, nil
	}
	r := n.Corner + (n.Mill-t.Diameter)/2 // of the corners as cut
	a, b := x.Big-2*r, y.Big-2*r
	p, q := rising-2*r, falling-2*r
	sin := (p*p - q*q) / (4 * a * b)
	if !(p > 0 && q > 0) || math.Abs(math.Hypot(a, b)-math.Sqrt((p*p+q*q)/2)) > 0.5 {
		return t, refuse("diagonals of %s and %s do not belong to a square of %s × %s", rising, falling, x.Big, y.Big)
	}
	if math.Abs(sin) > 0.05 {
		return t, refuse("the diagonals differ by %s: that is no skew of a machine but a part that moved", rising-falling)
	}
	t.Skew = math.Asin(sin)
	return t, nil
}

func axis(name string, n Nominal, a Axis) (Machine, error) {
	for _, v := range []struct {
		what       string
		have, want float64
	}{{"big", a.Big, n.Big}, {"small", a.Small, n.Small}, {"window", a.Window, n.Window}} {
		if !(math.Abs(v.have-v.want) <= 0.05*v.want) {
			return Machine{}, refuse("%s %s is %s; the drawing says %s: want a size within 5 %", v.what, name, v.have, v.want)
		}
	}
	m := Machine{Scale: (a.Big - a.Small) / (n.Big - n.Small)}
	m.Backlash = (m.Scale*(n.Small+n.Window) - a.Small - a.Window) / 2
	m.Diameter = (a.Window-a.Small+m.Scale*(n.Small-n.Window))/2 + m.Scale*n.Mill
	switch {
	case m.Diameter <= 0 || math.Abs(m.Diameter-n.Mill) > 0.2*n.Mill+0.2:
		return m, refuse("the sizes along %s say that a mill of %s cuts %s: one was read wrongly, or another mill was used", name, n.Mill, m.Diameter)
	case m.Backlash < -0.05:
		return m, refuse("the sizes along %s say that the machine gains %s at each turn, which cannot be: one was read wrongly", name, -m.Backlash)
	case m.Backlash > 2:
		return m, refuse("the sizes along %s say that the machine loses %s at each turn: look for a loose coupling first", name, m.Backlash)
	}
	return m, nil
}
