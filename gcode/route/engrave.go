package route

import (
	"fmt"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

const maxEngrave = 0.5 // mm

// Engrave plans the separate program that draws the engraved lines of all jobs.
// Its Z zero is the sheet's top, whatever the tool says, and it enters the sheet
// on a ramp along each line, to and fro where the line is short. Closed lines are
// run round once more at depth. The tool's EngraveDepth counts, not StepDown,
// Through or Hold.
func Engrave(jobs []Job, t Tool) (*Program, error) {
	t.ZeroTop, t.StepDown, t.Through, t.KerfExtra = true, 1, 0, 0
	t.Hold, t.FluteLength = Screws, 0
	if err := checkAll(jobs, &t); err != nil {
		return nil, err
	}
	if !(t.EngraveDepth > 0 && t.EngraveDepth <= maxEngrave) {
		return nil, refuse("engraving %s deep; want more than 0, at most %s", t.EngraveDepth, maxEngrave)
	}
	thick := jobs[0].Thick
	if t.EngraveDepth >= thick {
		return nil, refuse("engraving %s deep goes through the sheet of %s", t.EngraveDepth, thick)
	}
	p := newPen(&t, thick)
	p.start()
	z := thick - t.EngraveDepth
	for i := range jobs {
		p.job = uint8(i)
		for k, line := range jobs[i].Engrave {
			run := opened(line)
			if !p.drops(run) {
				return nil, refuse("%s: the engraved line near X %s Y %s is %s long; too short to ramp into the sheet",
					jobs[i].title(i), line.V[0].X(), line.V[0].Y(), run.Length())
			}
			if k == 0 {
				p.note("engrave " + jobs[i].title(i))
			}
			p.engrave(run, line.Closed, z)
		}
	}
	p.lift()
	return p.program(), nil
}

func (p *pen) engrave(run geom.Path, closed bool, z float64) {
	p.goTo(run.Start(), p.thick+touch)
	if closed {
		s := p.rampRound(run, 0, z)
		p.follow(run.Cut(s, run.Length()))
		p.follow(run.Cut(0, s))
		return
	}
	if p.rampToAndFro(run, false, z) {
		p.follow(run.Reverse())
	} else {
		p.follow(run)
	}
}

// Frame plans the program that traces the box at safe height, the spindle off,
// so that the operator sees where the job will lie on a sheet of the given
// thickness.
func Frame(b orb.Bound, thick float64, t Tool) (*Program, error) {
	if !(b.Max[0]-b.Min[0] >= 0 && b.Max[1]-b.Min[1] >= 0) {
		return nil, fmt.Errorf("route: the frame's box is empty")
	}
	if !(thick >= 0 && thick <= 100) {
		return nil, refuse("sheet thickness %s; want 0 to %s", thick, 100)
	}
	if !(t.SafeZ >= above && t.SafeZ <= 1000) {
		return nil, refuse("safe height %s above the sheet; want %s to %s", t.SafeZ, above, 1000)
	}
	t.RPM = 0
	p := newPen(&t, thick)
	p.start()
	for _, q := range []orb.Point{b.Min, {b.Max[0], b.Min[1]}, b.Max, {b.Min[0], b.Max[1]}, b.Min} {
		p.goTo(q, p.safe())
	}
	return p.program(), nil
}
