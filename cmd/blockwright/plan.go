package main

import (
	"github.com/spf13/cobra"

	"blockwright/jig/joint"
	"blockwright/jig/plan"
)

func newPlanCmd(s *streams) *cobra.Command {
	return group(&cobra.Command{
		Use:   "plan",
		Short: "Turn outside sizes into a cut list and an order of work",
		Long: `Plan turns the outside sizes of a piece into its cut list: pieces with their pass
and faces, blanks wide enough to rip after milling, spares, backers and test pieces,
fence stages with their spacers, the wood needed, the commands that make the
setting and the fixtures, and the order of work.

` + cautions,
	}, newPlanBoxCmd(s), newPlanFrameCmd(s), newPlanPostCmd(s), newPlanPanelCmd(s))
}

const planStatus = `
Exit status is 0 with a plan, 1 if the sizes or the joint do not allow it, 3 for a
wrong command line and 4 if shop or cutter cannot be read.`

// A planFlags holds what all plans take: the joint, how boards are prepared, and
// lengths by name.
type planFlags struct {
	join   joinFlags
	sizes  map[string]*lengthFlag
	spares countFlag
}

// newPlanFlags adds the flags of the joint and the saw to a command.
func newPlanFlags(cmd *cobra.Command, what string) *planFlags {
	f := &planFlags{sizes: map[string]*lengthFlag{}, spares: countFlag{n: 1, low: 0, high: 10}}
	f.join.add(cmd)
	f.add(cmd, "kerf", "width of the saw's kerf (3mm, or 1/8in in an inch shop)", notNegative)
	f.add(cmd, "edge", "allowance on both edges of a blank (12mm, or 1/2in)", notNegative)
	cmd.Flags().Var(&f.spares, "spare", "spare "+what+" of each kind")
	return f
}

// add adds a length that may be left out.
func (f *planFlags) add(cmd *cobra.Command, name, use string, sign signs) {
	l := &lengthFlag{sign: sign}
	f.sizes[name] = l
	cmd.Flags().Var(l, name, use)
}

// need adds a length that has to be given.
func (f *planFlags) need(cmd *cobra.Command, name, use string) {
	f.add(cmd, name, use, positive)
	if err := cmd.MarkFlagRequired(name); err != nil {
		panic(err)
	}
}

// A job is a plan's joint, its shop's units and how boards are prepared there.
type job struct {
	set   *joint.Setting
	saw   plan.Saw
	units string
	f     *planFlags
}

// mm is the length of a flag, 0 where it was not given.
func (j job) mm(name string) float64 {
	if l := j.f.sizes[name]; l.set {
		return l.mm(j.units)
	}
	return 0
}

// job reads shop and cutter and solves the joint.
func (f *planFlags) job(s *streams) (job, error) {
	set, sh, err := f.join.solve(s)
	if err != nil {
		return job{}, err
	}
	j := job{set: set, units: sh.Units, f: f, saw: plan.Saw{Kerf: 3, Edge: 12, Spares: f.spares.n}}
	if sh.Units == "in" {
		j.saw = plan.Saw{
			Kerf: 25.4 / 8, Edge: 25.4 / 2, Spares: f.spares.n,
			Test: plan.Test{Length: 12 * 25.4, Width: 4 * 25.4}, Play: 25.4 / 32, Grid: 25.4 / 64,
		}
	}
	if f.sizes["kerf"].set {
		j.saw.Kerf = j.mm("kerf")
	}
	if f.sizes["edge"].set {
		j.saw.Edge = j.mm("edge")
	}
	return j, nil
}

// run plans the job and prints it.
func (f *planFlags) run(s *streams, make func(job) (*plan.Plan, error)) error {
	j, err := f.job(s)
	if err != nil {
		return err
	}
	p, err := make(j)
	if err != nil {
		return inShopUnits(err, j.units)
	}
	return planned(s, p, j)
}
