package adjust

import (
	"math"

	"blockwright/jig/joint"
)

// A Corner is a test corner held nested: a flat and an upright board, their cuts in
// each other.
type Corner struct {
	// Face is how far in mm the upright board's outer face stands beyond the flat
	// board's tip, or beyond where a drawer's overlay wants it; negative behind it.
	Face float64
	// End is how far in mm its end stands above the flat board's face, or inside a
	// drawer front's lip; negative below it.
	End float64
}

// FromCorner gives height and fence from a corner's two steps where they tell the
// two apart. With dz + e ≥ 0 both steps are dz - e for 45° tips, whatever dz and e
// are: then a flip test or a tip is needed too, and the answer is a refusal that
// asks for it.
func FromCorner(s *joint.Setting, c Corner) (Move, error) {
	for _, v := range []float64{c.Face, c.End} {
		if err := finite("a step", v); err != nil {
			return Move{}, err
		}
		if math.Abs(v) >= s.Passes[0].Stock/2 {
			return Move{}, refuse("a step of %s on stock of %s: that is no error of the setting; check cutter, joint and stock", v, s.Passes[0].Stock)
		}
	}
	if !s.HasCorner() {
		return fromLip(s, c)
	}
	if math.Abs(c.Face) < 1e-9 && math.Abs(c.End) < 1e-9 {
		return Move{}, refuse("no step at the face and none at the end: height and fence are right, or both are wrong by the same; a flip test tells which")
	}
	if math.Abs(c.Face-c.End) < sense {
		return Move{}, refuse("the same step at face and end (%s and %s) does not tell height from fence: add a flip test (adjust flip) or read the tip of the flat board (adjust tip)", c.Face, c.End)
	}
	steps := func(dz, e float64) (float64, float64, bool) {
		k := s.Steps(joint.Error{DZ: dz, E: e}).Corner
		if k == nil {
			return 0, 0, false
		}
		return k.FaceStep - c.Face, k.EndStep - c.End, true
	}
	// Newton from the rule for 45° tips: the face shows -2e, the end 2dz.
	dz, e := c.End/2, -c.Face/2
	const h = 1e-5
	for range 30 {
		f, g, ok := steps(dz, e)
		if !ok {
			break
		}
		if math.Hypot(f, g) < 1e-10 {
			m := Move{Height: -dz + 0, Fence: -e + 0, Knows: [2]bool{true, true}}
			m.Next = "a new corner: outside faces flush on both sides, the corner sharp and closed"
			return m, nil
		}
		f1, g1, _ := steps(dz+h, e)
		f2, g2, _ := steps(dz, e+h)
		a, b, cc, d := (f1-f)/h, (f2-f)/h, (g1-g)/h, (g2-g)/h
		det := a*d - b*cc
		if math.Abs(det) < 1e-3 {
			break
		}
		dz -= (f*d - b*g) / det
		e -= (a*g - cc*f) / det
	}
	return Move{}, refuse("no error of height and fence shows %s at the face and %s at the end together: are the cuts nested all the way, without dust between them?", c.Face, c.End)
}

// fromLip is the same for a joint whose front has a lip over the side's end, a
// drawer lock: the side's face misses the overlay by the face's step, and a cutter
// too low leaves a gap between the side's end and the lip, of its error: the tooth
// lowers the side twice, but the lip once with it. Too high a cutter keeps the cuts from going home: there is nothing to read then.
func fromLip(s *joint.Setting, c Corner) (Move, error) {
	if len(s.Passes) < 2 || s.Passes[1].Lies != joint.Upright {
		return Move{}, refuse("no corner to read: the joint is a %s; see adjust edge", s.Words())
	}
	if c.End > 0 {
		return Move{}, refuse("the side's end cannot stand %s inside the front's lip: where the cuts do not go home the cutter is too high; lower it until they do", c.End)
	}
	return Move{
		Height: -c.End + 0, Fence: c.Face/2 + 0, Knows: [2]bool{true, true},
		Next: "a new front and side: the end against the lip without a gap, the overlay as it was asked",
	}, nil
}
