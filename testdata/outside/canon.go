package outside

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// The kinds of calls kept from the interpreter's output.
const (
	Rapid = iota // STRAIGHT_TRAVERSE
	Line         // STRAIGHT_FEED
	Arc          // ARC_FEED
	Dwell        // DWELL
)

// A Call is one motion or dwell, in mm and seconds, in the coordinates the
// program started with: offsets that the program sets later (G92, G10, G55) are
// added back.
type Call struct {
	Kind   int
	To     [3]float64
	Centre [2]float64 // in the plane: XY, ZX or YZ
	Turns  int        // of an arc: +1 counter-clockwise, -1 clockwise, ±1 too for a full circle
	Plane  byte       // 'Z' for G17, 'Y' for G18, 'X' for G19: the axis across the plane
	Feed   float64    // as last set: mm/min, or turns of the clock in inverse time mode
	RPM    float64    // 0 while the spindle is off; negative counter-clockwise
	Wait   float64    // s
	Step   float64    // mm: the size of the last decimal the interpreter printed
}

// Canon is what the interpreter did.
type Canon struct {
	Calls []Call
	Ended bool // PROGRAM_END was reached
	Units string
	Stops int // PROGRAM_STOP
}

// Bounds of all end points of the moves.
func (c Canon) Bounds() (lo, hi [3]float64) {
	for k := range 3 {
		lo[k], hi[k] = math.Inf(1), math.Inf(-1)
	}
	for _, m := range c.Calls {
		if m.Kind == Dwell {
			continue
		}
		for k := range 3 {
			lo[k], hi[k] = math.Min(lo[k], m.To[k]), math.Max(hi[k], m.To[k])
		}
	}
	return lo, hi
}

// readCanon reads lines such as
//
//	13 N..... STRAIGHT_TRAVERSE(0.0000, 0.0000, 5.0000, 0.0000, 0.0000, 0.0000)
//
// Coordinates are printed in the program's units with four decimals.
func readCanon(text []byte) (Canon, error) {
	c := Canon{Units: "mm"}
	unit := 1.0
	plane := byte('Z')
	feed, speed, turning := 0.0, 0.0, 0.0
	var g5x, g92 [3]float64
	offStep := 0.0 // mm, of the digits in which an offset was printed
	for _, line := range strings.Split(string(text), "\n") {
		open := strings.IndexByte(line, '(')
		if open < 0 {
			continue
		}
		head := strings.Fields(line[:open])
		if len(head) == 0 {
			continue
		}
		name := head[len(head)-1]
		args := line[open+1:]
		if end := strings.LastIndexByte(args, ')'); end >= 0 {
			args = args[:end]
		}
		numbers := func(n int) ([]float64, error) {
			parts := strings.Split(args, ",")
			if len(parts) < n {
				return nil, fmt.Errorf("%q: want %d numbers", line, n)
			}
			out := make([]float64, n)
			for i := range out {
				v, err := strconv.ParseFloat(strings.TrimSpace(parts[i]), 64)
				if err != nil {
					return nil, fmt.Errorf("%q: %w", line, err)
				}
				out[i] = v
			}
			return out, nil
		}
		place := func(x, y, z float64) [3]float64 {
			p := [3]float64{x, y, z}
			for k := range p {
				p[k] = p[k]*unit + g5x[k] + g92[k]
			}
			return p
		}
		call := Call{Plane: plane, Feed: feed, RPM: turning * speed, Step: max(1e-4*unit, offStep)}
		var v []float64
		var err error
		switch name {
		case "USE_LENGTH_UNITS":
			unit, c.Units = 1, "mm"
			if strings.Contains(args, "INCH") {
				unit, c.Units = 25.4, "in"
			}
		case "SELECT_PLANE":
			switch {
			case strings.Contains(args, "XY"):
				plane = 'Z'
			case strings.Contains(args, "XZ"):
				plane = 'Y'
			default:
				plane = 'X'
			}
		case "SET_FEED_RATE":
			if v, err = numbers(1); err == nil {
				feed = v[0] * unit
			}
		case "SET_SPINDLE_SPEED":
			if v, err = numbers(2); err == nil {
				speed = v[1]
			}
		case "START_SPINDLE_CLOCKWISE":
			turning = 1
		case "START_SPINDLE_COUNTERCLOCKWISE":
			turning = -1
		case "STOP_SPINDLE_TURNING":
			turning = 0
		case "SET_G5X_OFFSET":
			if v, err = numbers(4); err == nil {
				g5x = [3]float64{v[1] * unit, v[2] * unit, v[3] * unit}
				if g5x != ([3]float64{}) {
					offStep = max(offStep, 1e-4*unit)
				}
			}
		case "SET_G92_OFFSET":
			if v, err = numbers(3); err == nil {
				g92 = [3]float64{v[0] * unit, v[1] * unit, v[2] * unit}
				if g92 != ([3]float64{}) {
					offStep = max(offStep, 1e-4*unit)
				}
			}
		case "STRAIGHT_TRAVERSE", "STRAIGHT_FEED":
			if v, err = numbers(3); err == nil {
				if name == "STRAIGHT_FEED" {
					call.Kind = Line
				}
				call.To = place(v[0], v[1], v[2])
				c.Calls = append(c.Calls, call)
			}
		case "ARC_FEED":
			if v, err = numbers(6); err == nil {
				call.Kind, call.Turns = Arc, int(v[4])
				// The plane's first and second axis, then the one across it.
				a, b, h := 0, 1, 2
				switch plane {
				case 'Y':
					a, b, h = 2, 0, 1
				case 'X':
					a, b, h = 1, 2, 0
				}
				var end, mid [3]float64
				end[a], end[b], end[h] = v[0], v[1], v[5]
				mid[a], mid[b] = v[2], v[3]
				call.To = place(end[0], end[1], end[2])
				m := place(mid[0], mid[1], mid[2])
				call.Centre = [2]float64{m[a], m[b]}
				c.Calls = append(c.Calls, call)
			}
		case "DWELL":
			if v, err = numbers(1); err == nil {
				call.Kind, call.Wait = Dwell, v[0]
				c.Calls = append(c.Calls, call)
			}
		case "PROGRAM_STOP":
			c.Stops++
		case "PROGRAM_END":
			c.Ended = true
		}
		if err != nil {
			return c, err
		}
	}
	return c, nil
}
