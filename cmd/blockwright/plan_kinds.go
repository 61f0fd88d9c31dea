package main

import (
	"github.com/spf13/cobra"

	"blockwright/jig/plan"
)

func newPlanBoxCmd(s *streams) *cobra.Command {
	var f *planFlags
	wrap := false
	cmd := &cobra.Command{
		Use:   "box --cutter CUTTER --stock T --length L --width W --height H",
		Short: "A box with four corners of one kind, or a drawer",
		Long: `Box plans a box of the given outside sizes. Two opposite sides, the longer ones,
are cut flat, the other two upright, so that no side has one pass of each kind.

With a drawer lock it plans a drawer: front and back, as long as --width, are cut
flat; the sides, for the depth --length, stand on end. --side is the sides'
thickness, --overlay what the front stands beyond them at each end; the outside
sizes are without it.

--bottom adds a bottom in grooves. With --wrap all four sides come from one board,
in order, so that the grain runs round the box.
` + planStatus,
		Example: `  blockwright plan box --cutter ridge-lock --stock 19mm --length 400mm --width 250mm --height 120mm --bottom 6mm
  blockwright plan box --cutter drawer --stock 3/4in --side 1/2in --overlay 3/8in --width 14in --length 18in --height 4in`,
		Args: atMost(0, "arguments"),
		RunE: func(*cobra.Command, []string) error {
			return f.run(s, func(j job) (*plan.Plan, error) {
				return plan.Box{
					Length: j.mm("length"), Width: j.mm("width"), Height: j.mm("height"), Setting: j.set, Saw: j.saw,
					Bottom: j.mm("bottom"), Groove: j.mm("groove"), Up: j.mm("up"), Wrap: wrap,
				}.Plan()
			})
		},
	}
	f = newPlanFlags(cmd, "sides")
	f.need(cmd, "length", "outside length; of a drawer its depth")
	f.need(cmd, "width", "outside width; of a drawer along its front")
	f.need(cmd, "height", "height of the sides")
	f.add(cmd, "bottom", "thickness of a bottom in grooves", notNegative)
	f.add(cmd, "groove", "depth of its grooves (a third of the thinner sides)", notNegative)
	f.add(cmd, "up", "from the sides' lower edge to the groove (twice the bottom, 6mm at least)", notNegative)
	cmd.Flags().BoolVar(&wrap, "wrap", false, "all sides from one board, so that the grain runs round")
	return cmd
}

func newPlanFrameCmd(s *streams) *cobra.Command {
	var f *planFlags
	wrap, rabbet := false, false
	cmd := &cobra.Command{
		Use:   "frame --cutter CUTTER --stock T --length L --width W --member M",
		Short: "A frame of four boards, with a panel or without",
		Long: `Frame plans a four-sided frame of the given outside sizes.

With a lock miter the boards stand on edge, mitered at the corners: the stock's
thickness is what one sees from the front, --member the frame's depth. Two boards
are cut flat, the other two upright. --panel sits in a groove on the inside, or with
--rabbet in a rabbet along the back edge.

With a matched set (--with) the boards lie in one plane, --member wide: two stiles
as long as the frame and two rails between them. --cutter is the one that leaves
the groove along the edges, --with the one that leaves the tongue on the rails'
ends. The panel sits in the groove.
` + planStatus,
		Example: `  blockwright plan frame --cutter ridge-lock --stock 19mm --length 500mm --width 400mm --member 60mm --panel 4mm --rabbet
  blockwright plan frame --cutter stick --with cope --stock 3/4in --length 24in --width 16in --member 2-1/4in --panel 1/4in`,
		Args: atMost(0, "arguments"),
		RunE: func(*cobra.Command, []string) error {
			return f.run(s, func(j job) (*plan.Plan, error) {
				return plan.Frame{
					Length: j.mm("length"), Width: j.mm("width"), Member: j.mm("member"), Setting: j.set, Saw: j.saw,
					Panel: j.mm("panel"), Groove: j.mm("groove"), Up: j.mm("up"), Rabbet: rabbet, Wrap: wrap,
				}.Plan()
			})
		},
	}
	f = newPlanFlags(cmd, "boards")
	f.need(cmd, "length", "outside length; the stiles of a matched set run along it")
	f.need(cmd, "width", "outside width")
	f.need(cmd, "member", "width of the frame's boards: its depth with a lock miter, its face with a matched set")
	f.add(cmd, "panel", "thickness of a panel", notNegative)
	f.add(cmd, "groove", "lock miter: depth of its groove or rabbet (a third of the thinner boards)", notNegative)
	f.add(cmd, "up", "lock miter: from the back edge to the panel (a third of --member; none with --rabbet)", notNegative)
	cmd.Flags().BoolVar(&rabbet, "rabbet", false, "lock miter: the panel lies in a rabbet at the back edge")
	cmd.Flags().BoolVar(&wrap, "wrap", false, "lock miter: all boards from one, so that the grain runs round")
	return cmd
}

func newPlanPostCmd(s *streams) *cobra.Command {
	var f *planFlags
	cmd := &cobra.Command{
		Use:   "post --cutter CUTTER --stock T --size S --length L",
		Short: "A hollow square post, mitered along the grain",
		Long: `Post plans four staves with a lock miter along the grain: two have both edges cut
flat, the other two both edges upright. The staves are ripped exactly to the post's
size before they are milled.
` + planStatus,
		Example: "  blockwright plan post --cutter ridge-lock --stock 19mm --size 90mm --length 800mm",
		Args:    atMost(0, "arguments"),
		RunE: func(*cobra.Command, []string) error {
			return f.run(s, func(j job) (*plan.Plan, error) {
				return plan.Post{Size: j.mm("size"), Length: j.mm("length"), Setting: j.set, Saw: j.saw}.Plan()
			})
		},
	}
	f = newPlanFlags(cmd, "staves")
	f.need(cmd, "size", "outside size of the square")
	f.need(cmd, "length", "length of the post")
	return cmd
}

func newPlanPanelCmd(s *streams) *cobra.Command {
	var f *planFlags
	boards := countFlag{low: 2, high: 50}
	cmd := &cobra.Command{
		Use:   "panel --cutter CUTTER --stock T --width W --length L --boards N",
		Short: "A panel glued up edge to edge",
		Long: `Panel plans boards for an edge joint. With an edge-glue cutter one edge of each
board is cut with the good face down, the other with it up; with a matched set
(--with) one edge is cut with each cutter. Every joint takes its interlock off the
width, so the boards are wider together than the panel.
` + planStatus,
		Example: `  blockwright plan panel --cutter glue --stock 19mm --width 450mm --length 800mm --boards 4
  blockwright plan panel --cutter groove --with tongue --stock 3/4in --width 18in --length 30in --boards 5`,
		Args: atMost(0, "arguments"),
		RunE: func(*cobra.Command, []string) error {
			return f.run(s, func(j job) (*plan.Plan, error) {
				return plan.Panel{Width: j.mm("width"), Length: j.mm("length"), Boards: boards.n, Setting: j.set, Saw: j.saw}.Plan()
			})
		},
	}
	f = newPlanFlags(cmd, "boards")
	f.need(cmd, "width", "finished width")
	f.need(cmd, "length", "finished length")
	cmd.Flags().Var(&boards, "boards", "number of boards")
	if err := cmd.MarkFlagRequired("boards"); err != nil {
		panic(err)
	}
	return cmd
}
