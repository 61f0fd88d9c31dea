package posts

import (
	"errors"
	"fmt"
	"math"

	"blockwright/gcode/proof"
	"blockwright/gcode/route"
	"blockwright/geom"
	"blockwright/jig/adjust"
	"blockwright/jig/plate"
)

// A measured fixture is milled by two programs. The first roughs every plate and
// leaves roughLeft on its walls, and mills a witness beside them, a rectangle whose
// sides stand flatProud over their size. The operator measures it, still clamped.
// The second program then mills all walls, with the diameter that the mill truly
// cuts and the play of the axes taken up. Both have the same walls, which are made
// for a mill that much wider, so that the true one reaches them.
const (
	roughLeft = 0.2       // mm
	flatProud = roughLeft // mm
	flatLeft  = 0.3       // mm that roughing leaves on the witness: more than an axis may lose, or roughing would have cut the flats
	jawRoom   = 8.0       // mm of kerf beside a flat. Common practice, no source: a caliper's jaw is 3 to 5 thick
	hopLeast  = 2.0       // mm of overtravel: the hop that makes every seat's approach sure
	kerfLeast = 0.4       // mm by which the roughed kerf is wider than the mill, at least: the second program comes down in it
	tabLap    = 0.2       // mm: see route.Finishing
)

// FinishMeasured is the word for a fixture that is finished after measuring.
const FinishMeasured = "measured"

// finish is how the fixture is finished, "" in one program.
func (r Request) finish() string {
	if r.Measured {
		return FinishMeasured
	}
	return ""
}

// fitWider is how much wider than the mill the walls of a measured fixture allow.
func (r Request) fitWider() float64 {
	if r.Measured {
		return 2 * roughLeft
	}
	return 0
}

// widest is the widest kerf in mm that is cut round a plate.
func (r Request) widest(mill float64) float64 {
	if r.Measured {
		return math.Max(mill+roughLeft+math.Max(r.Shop.Defaults.KerfExtra, kerfLeast), jawRoom+roughLeft)
	}
	return mill + r.Shop.Defaults.KerfExtra
}

// fitError says for the mill itself what was said for a wider one.
func (r Request) fitError(err error) error {
	var big *plate.TooBig
	if r.Measured && errors.As(err, &big) {
		big.Mill -= r.fitWider()
		big.Largest = math.Max(0, big.Largest-r.fitWider())
	}
	return err
}

// withWitness adds the witness to every design.
func withWitness(designs [][]plate.Plate) [][]plate.Plate {
	out := make([][]plate.Plate, len(designs))
	for i, d := range designs {
		out[i] = append(append([]plate.Plate(nil), d...), plate.Witness())
	}
	return out
}

// roughing turns the jobs into those of the first program: the last one is the
// witness, milled whole over its final size, its X flats approached from outside
// and its Y flats from inside, as [adjust.FromWitness] wants them.
func (f *Fixture) roughing(jobs []route.Job, tool *route.Tool) {
	tool.Overtravel = math.Max(tool.Overtravel, hopLeast)
	tool.KerfExtra = math.Max(tool.KerfExtra, kerfLeast)
	for i := range jobs {
		jobs[i].Stage, jobs[i].Allowance = route.Roughing, roughLeft
	}
	w := &jobs[len(jobs)-1]
	w.Stage, w.Allowance, w.Room = route.Whole, math.Min(flatLeft, f.Diameter*sideMost), jawRoom
	c := f.Plates[len(f.Plates)-1]
	b := geom.Bound(c.Wall).Pad(flatProud)
	w.Wall = geom.Region{geom.Rect(b.Min[0], b.Min[1], b.Max[0], b.Max[1])}
	w.Keep, w.AsComes = nil, nil
	for i, s := range c.Kept {
		e := s.Edge(0)
		d := e.Direction(0) // the plate on its left
		s = s.Move(geom.Shift(d[1]*flatProud, -d[0]*flatProud))
		if i%2 == 0 {
			w.Keep = append(w.Keep, s)
		} else {
			w.AsComes = append(w.AsComes, s)
		}
	}
	f.Witness = &adjust.Witness{X: b.Max[0] - b.Min[0], Y: b.Max[1] - b.Min[1], Mill: f.Diameter, Left: roughLeft, Play: w.Allowance - 0.05}
}

// roughWalls is what the first program leaves of the walls.
func (f *Fixture) roughWalls(jobs []route.Job) error {
	for _, j := range jobs {
		wall := j.Wall
		if j.Stage == route.Roughing {
			var err error
			if wall, err = j.Wall.Offset(j.Allowance); err == nil {
				// The proof takes it for the truth: it is held against distances.
				err = errors.Join(wall.Parallel(j.Wall, j.Allowance), j.Wall.Parallel(wall, -j.Allowance))
			}
			if err != nil {
				return fmt.Errorf("%s: %w", j.Name, err)
			}
		}
		f.rough = append(f.rough, wall...)
	}
	return nil
}

// finishing plans the second program from the first one's jobs and plan.
func (f *Fixture) finishing(jobs []route.Job, first *route.Program, tool route.Tool) ([]route.Hint, error) {
	found := f.Request.Found
	tool.KerfExtra = math.Min(tool.KerfExtra, tool.Diameter/2)
	tool.Diameter = found.Diameter
	second := append([]route.Job(nil), jobs...)
	for i := range second {
		j := &second[i]
		j.Wall, j.Keep, j.AsComes, j.Room, j.Pockets = f.Plates[i].Wall, f.Plates[i].Kept, nil, 0, nil
		if j.Stage == route.Whole {
			j.Allowance += flatProud
		}
		j.Stage = route.Finishing
		j.Allowance += (f.Diameter - found.Diameter) / 2
		for _, t := range first.Tabs {
			if t.Job == i {
				j.Tabs = append(j.Tabs, t.Wall)
			}
		}
	}
	p, err := route.Plan(second, tool)
	if err != nil {
		return nil, err
	}
	p.TakeUp([2]float64{found.Backlash, found.Backlash})
	f.Finishing = &Program{
		Kind: proof.Milling, Stage: route.Finishing, Moves: p.Moves, Notes: p.Notes, Mill: found.Diameter, Top: tool.ZeroTop,
		Lines: []string{"run it with the zero of the first program, the sheet still clamped"},
	}
	return p.Hints, nil
}

// finishingRules are what the second program is held to beside the rest.
func (f *Fixture) finishingRules(r *proof.Rules) {
	found := f.Request.Found
	r.Play = [2]float64{found.Backlash, found.Backlash}
	r.Tab += 2*tabLap + math.Max(0, f.Diameter-found.Diameter)
	if r.Hold == proof.ByScrews {
		r.Hold = proof.Held
	}
}

// roughLayer of a drawing has what the first program leaves of the walls.
const roughLayer = "ROUGH"

// purpose is what the program's head says that it is for.
func (p *Program) purpose() string {
	if p.Kind == proof.Milling {
		return stageNames[p.Stage]
	}
	return kindNames[p.Kind]
}
