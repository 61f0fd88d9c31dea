package svg

import (
	"fmt"
	"math"
	"strconv"

	"github.com/paulmach/orb"
)

// A scanner reads path data (SVG 1.1, 8.3.9).
type scanner struct {
	s  string
	at int
}

func (p *scanner) blanks(comma bool) {
	for p.at < len(p.s) {
		switch c := p.s[p.at]; {
		case c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f':
		case c == ',' && comma:
			comma = false
		default:
			return
		}
		p.at++
	}
}

// more tells whether a number follows.
func (p *scanner) more() bool {
	p.blanks(true)
	if p.at >= len(p.s) {
		return false
	}
	c := p.s[p.at]
	return c >= '0' && c <= '9' || c == '-' || c == '+' || c == '.'
}

func (p *scanner) fault(want string) error {
	end := min(len(p.s), p.at+12)
	if p.at >= len(p.s) {
		return fmt.Errorf("path data ends after %d bytes; want %s", len(p.s), want)
	}
	return fmt.Errorf("path data, byte %d: %s; want %s", p.at+1, quote(p.s[p.at:end]), want)
}

func (p *scanner) number() (float64, error) {
	p.blanks(true)
	from := p.at
	digits := func() (n int) {
		for p.at < len(p.s) && p.s[p.at] >= '0' && p.s[p.at] <= '9' {
			p.at++
			n++
		}
		return n
	}
	if p.at < len(p.s) && (p.s[p.at] == '-' || p.s[p.at] == '+') {
		p.at++
	}
	n := digits()
	if p.at < len(p.s) && p.s[p.at] == '.' {
		p.at++
		n += digits()
	}
	if n == 0 {
		p.at = from
		return 0, p.fault("a number")
	}
	if p.at < len(p.s) && (p.s[p.at] == 'e' || p.s[p.at] == 'E') {
		was := p.at
		p.at++
		if p.at < len(p.s) && (p.s[p.at] == '-' || p.s[p.at] == '+') {
			p.at++
		}
		if digits() == 0 {
			p.at = was
		}
	}
	v, err := strconv.ParseFloat(p.s[from:p.at], 64)
	if err != nil || math.Abs(v) > 1e12 {
		p.at = from
		return 0, p.fault("a number of a drawing's size")
	}
	return v, nil
}

// flag is one digit, 0 or 1, that needs no blank behind it.
func (p *scanner) flag() (bool, error) {
	p.blanks(true)
	if p.at < len(p.s) && (p.s[p.at] == '0' || p.s[p.at] == '1') {
		p.at++
		return p.s[p.at-1] == '1', nil
	}
	return false, p.fault("a flag, 0 or 1")
}

// arguments is how many numbers each command takes.
var arguments = map[byte]int{'M': 2, 'L': 2, 'H': 1, 'V': 1, 'C': 6, 'S': 4, 'Q': 4, 'T': 2, 'A': 7, 'Z': 0}

// data draws path data.
func (t *tracer) data(s string) error {
	p := &scanner{s: s}
	var at, start, control orb.Point // control of the last curve
	last := byte(0)
	p.blanks(false)
	for p.at < len(p.s) {
		c := p.s[p.at]
		upper := c &^ 0x20
		n, known := arguments[upper]
		switch {
		case !known || c < 'A':
			return p.fault("a command")
		case last == 0 && upper != 'M':
			return p.fault("M first")
		}
		p.at++
		relative := c != upper
		for first := true; first || n > 0 && p.more(); first = false {
			var v [7]float64
			for i := range n {
				if upper == 'A' && (i == 3 || i == 4) {
					f, err := p.flag()
					if err != nil {
						return err
					}
					if f {
						v[i] = 1
					}
					continue
				}
				var err error
				if v[i], err = p.number(); err != nil {
					return err
				}
			}
			to := func(i int) orb.Point {
				if relative {
					return orb.Point{at[0] + v[i], at[1] + v[i+1]}
				}
				return orb.Point{v[i], v[i+1]}
			}
			next := at
			switch upper {
			case 'M':
				next = to(0)
				if first {
					t.begin(next)
					start = next
				} else {
					t.line(at, next)
				}
			case 'L':
				next = to(0)
				t.line(at, next)
			case 'H':
				next[0] = v[0]
				if relative {
					next[0] += at[0]
				}
				t.line(at, next)
			case 'V':
				next[1] = v[0]
				if relative {
					next[1] += at[1]
				}
				t.line(at, next)
			case 'C', 'S':
				one, i := to(0), 2
				if upper == 'S' {
					one, i = at, 0
					if last == 'C' || last == 'S' {
						one = mirrored(control, at)
					}
				}
				control, next = to(i), to(i+2)
				t.cubic(at, one, control, next)
			case 'Q', 'T':
				if upper == 'Q' {
					control, next = to(0), to(2)
				} else {
					if last == 'Q' || last == 'T' {
						control = mirrored(control, at)
					} else {
						control = at
					}
					next = to(0)
				}
				t.quadratic(at, control, next)
			case 'A':
				next = to(5)
				t.arc(at, math.Abs(v[0]), math.Abs(v[1]), v[2], v[3] == 1, v[4] == 1, next)
			case 'Z':
				t.close()
				next = start
			}
			at, last = next, upper
			if t.err != nil {
				return t.err
			}
		}
		if upper == 'Z' {
			// What follows without M begins where the closed one did.
			t.pending, t.from = true, start
		}
		p.blanks(false)
	}
	t.end()
	return t.err
}

func mirrored(q, about orb.Point) orb.Point {
	return orb.Point{2*about[0] - q[0], 2*about[1] - q[1]}
}
