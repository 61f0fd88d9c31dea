package gcode

import (
	"fmt"
	"math"
)

// spindle writes what changes the speed.
func (p *printer) spindle(rpm float64) {
	n, ok := steps(math.Abs(rpm), 0)
	if !ok || n > 1e6 || math.IsNaN(rpm) {
		p.fail("spindle speed is %v; want 0 to 1e6", rpm)
		return
	}
	if rpm < 0 {
		n = -n
	}
	if n == p.rpm {
		return
	}
	was := p.rpm
	p.rpm = n
	switch {
	case n == 0:
		p.words("M5")
		return
	case was*n > 0 && !p.dial:
		p.words("S" + Number(math.Abs(float64(n)), 0))
		return
	}
	if p.dial {
		p.comment(fmt.Sprintf("MSG, set the spindle to %d rpm, start it, then go on", max(n, -n)))
		p.words("M0")
	}
	turn := " M3"
	if n < 0 {
		turn = " M4"
	}
	p.words("S" + Number(math.Abs(float64(n)), 0) + turn)
	if p.wait > 0 {
		p.dwell(p.wait)
	}
}

func (p *printer) dwell(seconds float64) {
	n, ok := steps(seconds, 3)
	if !ok || n < 0 {
		p.fail("a dwell of %v s", seconds)
		return
	}
	p.words("G4 P" + string(AppendNumber(nil, n, 3)))
}
