package trace

import (
	"fmt"
	"math"
)

// This file answers which ends of a board are cut ends.

// tilt is the board's turn in degrees against the picture's horizontal, or vertical.
func (b *board) tilt(down string) float64 {
	t := b.angle * 180 / math.Pi
	if down == "left" || down == "right" {
		t -= math.Copysign(90, t)
	}
	return t
}

// cutEnds are the cut ends of a board.
func (b *board) cutEnds(scan, down string) ([]*cut, *Refusal) {
	level := math.Abs(b.angle) * 180 / math.Pi
	flip := down == "top"
	switch down {
	case "left", "right":
		if level < 90-mostTilt {
			if level <= mostTilt {
				return nil, refuse(Upright, "--down bottom or --down top", "the board's faces run left to right in the picture")
			}
			return nil, refuse(Tilted, fmt.Sprintf("at most %d°: turn it on the glass and scan again", mostTilt), "the board is tilted by %.1f° in the picture", 90-level)
		}
		// Turned by +90° the lower face of the turned frame looks right, by -90° left.
		flip = (b.angle > 0) == (down == "left")
	default:
		if level > 90-mostTilt {
			return nil, refuse(Upright, "--down left or --down right: which face was down on the table", "the board stands upright in the picture")
		}
		if level > mostTilt {
			return nil, refuse(Tilted, fmt.Sprintf("at most %d°: turn it on the glass and scan again", mostTilt), "the board is tilted by %.1f° in the picture", level)
		}
	}
	if b.thick < 2.5 || b.thick > 130 {
		return nil, refuse(Size, "2.5 mm to 130 mm; are the pixels an inch right?", "a board %.4g mm thick", b.thick)
	}
	if b.blur > math.Max(0.15, 4*b.r.pitch()) {
		return nil, refuse(Blurred, "a sharp scan: the end flat on the glass", "the picture is out of focus: edges rise over %.2f mm", 2*b.blur)
	}
	plain := func(e end) bool { return e.rough < 0.12 && math.Abs(e.lean) < 0.035 }
	var open []end
	clipped := 0
	for _, e := range b.ends {
		if e.clipped {
			clipped++
			continue
		}
		if !plain(e) {
			open = append(open, e)
		}
	}
	if len(open) == 2 {
		// A back sawn off roughly or out of square is no cut, beside a real one.
		x, y := open[0], open[1]
		if x.rough < y.rough {
			x, y = y, x
		}
		if y.rough < 0.3 && y.rough < x.rough/4 && math.Abs(y.lean) < 0.2 {
			open = []end{x}
		}
	}
	if len(open) == 0 {
		if clipped > 0 {
			return nil, refuse(Clipped, "the whole cut end, with some background round it: move it inward on the glass", "the board's end is clipped: it runs out of the picture")
		}
		return nil, refuse(NoCut, "a board with a cut end: scan the section that shows the cut, not the cut face", "both ends of the board are square")
	}
	var cuts []*cut
	for _, e := range open {
		c := newCut(scan, b, e, flip)
		c.finder = b.r.finder(b.sign, max(5, int(math.Ceil(3.2*b.blur/b.r.pitch()))+3))
		c.finder.curve, c.finder.blur = b.curve, b.blur
		c.least = 0.01
		cuts = append(cuts, c)
	}
	return cuts, nil
}
