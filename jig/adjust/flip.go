package adjust

import (
	"math"

	"blockwright/jig/joint"
)

// Proud says which of two nested test pieces stands above the other.
type Proud string

// The turned piece, or that of a matched set's second cutter; the one that lies as
// it was cut, or that of the first cutter; or neither.
const (
	Turned Proud = "turned"
	Second Proud = "second"
	First  Proud = "first"
	Level  Proud = "none"
)

// A Flip is a flip test: two pieces cut flat, one turned over and nested in the
// other.
type Flip struct {
	Step  float64 // mm, on top, how far one stands above the other
	Proud Proud
	// Pieces are the thicknesses of the piece that lies as it was cut and of the
	// turned one; zero: both are the stock.
	Pieces [2]float64
	// Bottom is the turned piece's step at the bottom, positive where it stands
	// beyond the other; NaN where it was not read. It is only needed to find a
	// piece whose thickness was read wrongly.
	Bottom float64
}

// signed is the step above the other piece of the one called other.
func (f Flip) signed(stock float64, other Proud) (float64, error) {
	if err := finite("step", f.Step); err != nil {
		return 0, err
	}
	switch {
	case f.Step < 0:
		return 0, refuse("step %s; want 0 or more, and which piece stands proud", f.Step)
	case f.Step >= stock:
		return 0, refuse("step %s; two nested pieces of %s cannot show so much", f.Step, stock)
	case f.Step == 0 && f.Proud != Level:
		return 0, refuse("a step of 0 and a piece that stands proud contradict each other")
	}
	switch f.Proud {
	case other:
		return f.Step, nil
	case First:
		return -f.Step, nil
	case Level:
		if f.Step != 0 {
			return 0, refuse("a step of %s and no piece that stands proud contradict each other", f.Step)
		}
		return 0, nil
	}
	return 0, refuse("proud is %s; want %s, first or none", string(f.Proud), string(other))
}

// farOff is the error of height in mm beyond which a flip test is no correction but
// a slip: the wrong piece called proud, or a joint whose pieces do not nest level.
// Common practice, no source.
const farOff = 3.0

// height is the dz that the flip test shows. On top the turned piece stands
// 2(H + hc) less the other's thickness above it: twice dz where the pieces are
// the stock, so move by half the step. Common practice; follows from the half turn.
func (f Flip) height(s *joint.Setting) (float64, error) {
	if !s.TurnsOver() {
		return 0, refuse("a board of a %s does not nest in its like turned over, so there is no flip test; see adjust edge", s.Words())
	}
	stock := s.Passes[0].Stock
	step, err := f.signed(stock, Turned)
	if err != nil {
		return 0, err
	}
	a, b := f.Pieces[0], f.Pieces[1]
	if a == 0 && b == 0 {
		a, b = stock, stock
	}
	if !(a > 0 && b > 0) {
		return 0, refuse("the pieces are %s and %s thick; want both, more than 0", a, b)
	}
	if math.Max(math.Abs(a-stock), math.Abs(b-stock)) > 2 {
		return 0, refuse("the pieces are %s and %s thick; the setting is for %s: cut them from the real stock", a, b, stock)
	}
	top, bottom := s.Flip(a, b)
	dz := (step - top) / 2
	if math.Abs(dz) > farOff {
		return 0, refuse("the turned piece stands %s above the other when the height is right (negative: below); a step of %s would mean a cutter off by %s: read it again, or set the cutter with the block first",
			top, step, math.Abs(dz))
	}
	if f.Pieces != [2]float64{} && !math.IsNaN(f.Bottom) {
		if d := (f.Bottom - bottom) / 2; math.Abs(d-dz) > 4*sense {
			return 0, refuse("the steps on top and at the bottom ask for %s and %s: a thickness or a step was read wrongly", -dz, -d)
		}
	}
	return dz, nil
}

// A Tip is the sharp end of a board cut flat: it lost length, or a land was left
// on it.
type Tip struct {
	Short float64 // mm lost; 0 where Land counts
	Land  float64 // mm, width of the flat left on the end
}

// FromFlip gives the height from a flip test.
func FromFlip(s *joint.Setting, f Flip) (Move, error) {
	dz, err := f.height(s)
	if err != nil {
		return Move{}, err
	}
	m := Move{Height: -dz + 0, Knows: [2]bool{true, false}}
	m.Next = "two new pieces, one turned over: their faces must be level to the touch"
	if s.HasCorner() {
		m.Next += "; then look at the tips for the fence"
	}
	return m, nil
}

// FromTip gives the fence from the tip of a flat board, the height being right.
func FromTip(s *joint.Setting, t Tip) (Move, error) { return fromTip(s, t, 0, false) }

// FromTipAtHeight gives the fence from the tip of a board that was cut while the cutter
// stood dz mm too high, which was found otherwise.
func FromTipAtHeight(s *joint.Setting, t Tip, dz float64) (Move, error) {
	if err := finite("the error of height", dz); err != nil {
		return Move{}, err
	}
	if math.Abs(dz) > farOff {
		return Move{}, refuse("a cutter off by %s; want %s at most", math.Abs(dz), farOff)
	}
	return fromTip(s, t, dz, true)
}

// FromFlipAndTip gives both: the height from the flip test, the fence from the tip
// of a board cut at the same setting.
func FromFlipAndTip(s *joint.Setting, f Flip, t Tip) (Move, error) {
	dz, err := f.height(s)
	if err != nil {
		return Move{}, err
	}
	return fromTip(s, t, dz, true)
}

// fromTip finds the e that leaves such a tip while the cutter stands dz too high.
func fromTip(s *joint.Setting, t Tip, dz float64, knowsHeight bool) (Move, error) {
	for _, v := range []float64{t.Short, t.Land} {
		if err := finite("the tip", v); err != nil {
			return Move{}, err
		}
	}
	stock := s.Passes[0].Stock
	switch {
	case t.Short < 0 || t.Land < 0:
		return Move{}, refuse("a tip of %s; want 0 or more: lost length, or the width of the land left", math.Min(t.Short, t.Land))
	case t.Short > 0 && t.Land > 0:
		return Move{}, refuse("a tip either lost length or kept a land; both cannot be")
	case math.Max(t.Short, t.Land) >= stock/2:
		return Move{}, refuse("a tip of %s on stock of %s: that is no error of the setting; check cutter, joint and stock", math.Max(t.Short, t.Land), stock)
	}
	if _, ok := s.Tip(joint.Error{DZ: dz}); !ok {
		return Move{}, refuse("the joint is a %s: no tip to read the fence from; see adjust corner and edge", s.Words())
	}
	tip := func(e float64) joint.Tip {
		t, _ := s.Tip(joint.Error{DZ: dz, E: e})
		return t
	}
	var e float64
	if t.Land == 0 {
		e = t.Short - tip(0).Short // the tip loses just as much as the fence goes back
	} else {
		// The land is the board's height above the cut, which falls as e grows.
		land := func(e float64) float64 { return tip(e).Land - t.Land }
		lo, hi := -stock/2-math.Abs(dz), stock/2+math.Abs(dz)
		if land(lo) < 0 || land(hi) > 0 {
			return Move{}, refuse("no setting near this one leaves a land of %s on the tip", t.Land)
		}
		e = falling(land, lo, hi)
	}
	m := Move{Height: -dz + 0, Fence: -e + 0, Knows: [2]bool{knowsHeight, true}}
	m.Next = "a new piece cut flat: its tip must come sharp and its length stay what it was"
	return m, nil
}

// falling is where f, which falls from lo to hi, passes through 0, to 1e-10. By
// secants, of which the end that stays is taken for half as far (the Illinois rule),
// and by halves where they are slow.
func falling(f func(float64) float64, lo, hi float64) float64 {
	a, b := f(lo), f(hi)
	side := 0
	for n := 0; hi-lo > 1e-10; n++ {
		mid := (lo + hi) / 2
		if n%4 != 3 && a > b {
			mid = min(max(lo+(hi-lo)*a/(a-b), lo+2.5e-11), hi-2.5e-11)
		}
		switch v := f(mid); {
		case v > 0:
			if lo, a = mid, v; side > 0 {
				b /= 2
			}
			side = 1
		case v < 0:
			if hi, b = mid, v; side < 0 {
				a /= 2
			}
			side = -1
		default:
			return mid
		}
	}
	return (lo + hi) / 2
}
