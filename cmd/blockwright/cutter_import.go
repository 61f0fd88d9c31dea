package main

import (
	"fmt"
	"io"
	"path/filepath"

	"github.com/spf13/cobra"

	"blockwright/jig/cutter"
	"blockwright/jig/source"
	"blockwright/posts"
)

// profileMax is the most bytes that are read of a drawing of a profile.
const profileMax = 32 << 20

// newFlags are what a new cutter's file says beside its profile.
type newFlags struct {
	handle  nameFlag
	label   nameFlag
	joint   choiceFlag
	shank   lengthFlag
	rpm     positiveFlag
	replace bool
}

func (f *newFlags) add(cmd *cobra.Command) {
	f.joint.words = cutter.Joints
	f.shank.sign = positive
	fl := cmd.Flags()
	fl.Var(&f.handle, "name", "handle of the new cutter: "+cutter.HandleWant)
	fl.Var(&f.label, "label", "the name that is shown and engraved (made of the handle)")
	fl.Var(&f.joint, "joint", "what the cutter is for: "+source.Choice(cutter.Joints))
	fl.Var(&f.shank, "shank", "diameter of its shank")
	fl.Var(&f.rpm, "max-rpm", "the speed marked on it")
	fl.BoolVar(&f.replace, "replace", false, "replace a cutter of that handle")
	if err := cmd.MarkFlagRequired("name"); err != nil {
		panic(err)
	}
}

// check refuses a handle that is none before anything is read.
func (f *newFlags) check() error {
	if f.handle.text != "" && !cutter.ValidHandle(f.handle.text) { // without one cobra says what is missing
		return fmt.Errorf("flag --name: %q; want a handle: %s", f.handle.text, cutter.HandleWant)
	}
	return nil
}

// cutter is a cutter without its profile yet.
func (f *newFlags) cutter(units string) *cutter.Cutter {
	c := &cutter.Cutter{Handle: f.handle.text, Name: f.label.text, Joint: f.joint.text, Units: "mm", Shank: f.shank.mm(units), MaxRPM: float64(f.rpm), Known: [2]bool{true, true}}
	if c.Name == "" {
		c.Name = f.handle.text
	}
	return c
}

func newCutterImportCmd(s *streams) *cobra.Command {
	var f newFlags
	units := choiceFlag{words: []string{"mm", "in"}}
	axis := choiceFlag{words: []string{"left", "right"}}
	var layer nameFlag
	gap, tolerance, diameter := lengthFlag{sign: positive, text: "0.01mm"}, lengthFlag{sign: positive, text: "0.001mm"}, lengthFlag{sign: positive}
	cmd := &cobra.Command{
		Use:   "import FILE --name HANDLE",
		Short: "Make a cutter of a drawing of its profile",
		Long: `Import reads a drawing of the cutting edge and writes cutters/HANDLE.toml. FILE is

  .dxf   R12, R2000 and later: LINE, ARC, LWPOLYLINE, POLYLINE, SPLINE, ELLIPSE
  .svg   paths and shapes, with transforms, page size and viewBox
  .csv   a point on each line: x,y or x,y,bulge

Arcs that are round stay arcs; splines, ellipses and curves become arcs and lines that
miss them by no more than --tolerance. What draws and cannot be read is refused with
its line: it could be a stretch of the edge.

Draw the edge once, as the cutter stands in its table: shank down, the axis upright
at x = 0. Pieces may lie in any order; ends within --gap of each other are joined.
The axis is looked for at x = 0, at either side of the edge, or --axis says at which
side it is; --diameter, the largest, then puts it in its place. Where nothing says
where it is the radii are known only up to a shift: a block can be made, a fence
cannot be measured from the spindle.

A closed outline is opened along the axis. An undercut is refused with its place: no
straight pass leaves one.

Exit status is 0 when the cutter was written, 1 for a drawing that is no profile and
for a handle that is taken, 3 for a wrong command line and 4 if a file or the shop
cannot be read or written.`,
		Example: `  blockwright cutter import ridge.dxf --name ridge-lock
  blockwright cutter import scan.svg --name door-lock --joint drawer-lock --axis right --diameter 45mm`,
		Args:    exactly(1, "file"),
		PreRunE: func(*cobra.Command, []string) error { return f.check() },
		RunE: func(_ *cobra.Command, args []string) error {
			sh, err := s.shop()
			if err != nil {
				return err
			}
			text, err := readWhole(args[0], profileMax)
			if err != nil {
				return err
			}
			found, err := posts.ImportProfile(args[0], text, posts.Drawn{
				Units: units.text, Layer: layer.text, Gap: gap.mm(sh.Units), Tolerance: tolerance.mm(sh.Units),
				Placing: cutter.Placing{Axis: axis.text, Diameter: diameter.mm(sh.Units)},
			})
			if err != nil {
				return err
			}
			c := f.cutter(sh.Units)
			c.Profile, c.Known = found.Profile, found.Known
			remarks := []string{fmt.Sprintf("Imported from %s: %s, %s.", filepath.Base(args[0]), counted(found.Lines, "line"), counted(found.Arcs, "arc"))}
			if c.Joint == "" {
				c.Joint = "lock-miter"
				remarks = append(remarks, "Taken as a cutter for a lock miter; --joint says otherwise")
			}
			return writeCutter(s, sh.Dir, sh.Units, c, f.replace, append(remarks, found.Remarks...))
		},
	}
	f.add(cmd)
	fl := cmd.Flags()
	fl.Var(&units, "units", "units of the file's numbers: mm or in (as the file says, else mm)")
	fl.Var(&axis, "axis", "side of the profile at which the axis is: left or right (where x = 0 is)")
	fl.Var(&diameter, "diameter", "largest diameter of the edge")
	fl.Var(&layer, "layer", "DXF: read only this layer")
	fl.Var(&gap, "gap", "ends that are joined lie no farther apart")
	fl.Var(&tolerance, "tolerance", "arcs may miss a curve by so much")
	return cmd
}

// A newCutterView is a cutter that was written.
type newCutterView struct {
	*cutterView
	Remarks []string `json:"remarks"`
}

// writeCutter writes a new cutter and says what it is.
func writeCutter(s *streams, dir, units string, c *cutter.Cutter, replace bool, remarks []string) error {
	path, err := c.Write(dir, replace, remarks...)
	if err != nil {
		return err
	}
	back, err := cutter.Load(path)
	if err != nil {
		return err
	}
	sh, err := s.shop()
	if err != nil {
		return err
	}
	v := newCutterView{viewCutter(back, sh.Defaults.Web), remarks}
	v.File = path
	return s.result(v, func(w io.Writer) error {
		if _, err := fmt.Fprintln(w, plain(path)); err != nil {
			return err
		}
		for _, r := range remarks {
			wrapped(w, "  note: ", r)
		}
		if !back.Known[0] {
			wrapped(w, "  note: ", "the radii are known only up to a shift: give --diameter, or make blocks only")
		}
		if note := checkNote(back); note != "" {
			wrapped(w, "  note: ", note)
		}
		fmt.Fprintln(w)
		return printCutter(v.cutterView, back, units)(w)
	})
}

// counted is a number of things.
func counted(n int, thing string) string {
	if n != 1 {
		thing += "s"
	}
	return fmt.Sprintf("%d %s", n, thing)
}
