package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"golang.org/x/term"

	"blockwright/jig/cutter"
	"blockwright/jig/source"
)

// sizeFlags are the sizes of all families: lengths, and plain numbers.
type sizeFlags struct {
	lengths map[string]*lengthFlag
	plain   map[string]*positiveFlag
}

func (f *sizeFlags) add(fl *pflag.FlagSet) {
	f.lengths, f.plain = map[string]*lengthFlag{}, map[string]*positiveFlag{}
	for _, family := range cutter.Families() {
		for _, s := range family.Sizes {
			if fl.Lookup(s.Name) != nil {
				continue
			}
			if s.Plain {
				f.plain[s.Name] = new(positiveFlag)
				fl.Var(f.plain[s.Name], s.Name, s.Says)
				continue
			}
			f.lengths[s.Name] = &lengthFlag{sign: positive}
			fl.Var(f.lengths[s.Name], s.Name, s.Says)
		}
	}
}

// given are the sizes that were given, lengths in mm.
func (f *sizeFlags) given(units string) map[string]float64 {
	out := map[string]float64{}
	for name, l := range f.lengths {
		if l.set {
			out[name] = l.mm(units)
		}
	}
	for name, v := range f.plain {
		if *v > 0 {
			out[name] = float64(*v)
		}
	}
	return out
}

func newCutterNewCmd(s *streams) *cobra.Command {
	var f newFlags
	var sizes sizeFlags
	var ask bool
	var shapes []string
	for _, family := range cutter.Families() {
		if family.Shape != "" {
			shapes = append(shapes, family.Shape)
		}
	}
	shape := choiceFlag{words: shapes}
	sure := lengthFlag{sign: positive, text: fmt.Sprintf("%gmm", cutter.Calipers)}
	cmd := &cobra.Command{
		Use:   "new --name HANDLE --joint JOINT",
		Short: "Make a cutter of a dozen caliper sizes",
		Long: `New makes a profile of the sizes that a caliper reads on the cutter, and writes
cutters/HANDLE.toml. Measure diameters over opposite wings and heights from the end of
the edge nearest the shank; do not press the jaws on the carbide, and keep the cutter
out of the machine, away from power. On a terminal it asks for what was not given,
with a drawing of which size is meant.

Sizes that say the same twice are held against each other: where they differ by more
than calipers explain (--sure, for each size) the contradiction is named, else they
are balanced, so that a joint's profile is symmetric about its centre. A profile is as
sure as its sizes: good for a first setting, which a test cut then corrects. A scan
('cutter trace') or a drawing ('cutter import') is better.

` + familiesText() + `
Exit status is 0 when the cutter was written, 1 for sizes that contradict each other
and for a handle that is taken, 3 for a wrong command line and 4 if the shop cannot be
read or written.`,
		Example: `  blockwright cutter new --name door-lock --joint lock-miter
  blockwright cutter new --name slope --joint edge --shape chamfer --largest 38mm --smallest 12mm --height 13mm`,
		Args:    atMost(0, "arguments"),
		PreRunE: func(*cobra.Command, []string) error { return f.check() },
		RunE: func(cmd *cobra.Command, _ []string) error {
			path := cmd.CommandPath()
			family, err := cutter.FamilyOf(f.joint.text, shape.text)
			if err != nil {
				return &usageError{err, path}
			}
			sh, err := s.shop()
			if err != nil {
				return err
			}
			have := sizes.given(sh.Units)
			if err := notOf(family, have); err != nil {
				return &usageError{err, path}
			}
			var q *asker // nil if nothing was asked
			if missing := lacking(family, have); len(missing) > 0 {
				if !ask && !onTerminal(s.in) {
					return &usageError{fmt.Errorf("missing: --%s; want them all, or a terminal to be asked on", strings.Join(missing, ", --")), path}
				}
				q = newAsker(s, sh.Units)
				if err := q.missing(family, have); err != nil {
					return err
				}
			}
			c := f.cutter(sh.Units)
			tolerance := sure.mm(sh.Units)
			for {
				c.Profile, _, err = family.Profile(have, tolerance)
				if err == nil {
					break
				}
				err = inShopUnits(err, sh.Units)
				var why *cutter.Contradiction
				if q == nil || !errors.As(err, &why) || !q.again(family, have, why) {
					return err
				}
			}
			remarks := []string{fmt.Sprintf("Made of %d caliper sizes, each sure to about %s: a first setting may be off by as much, twice that in a flip test. Cut a test and correct.",
				len(have), shortUnits(tolerance, sh.Units))}
			return writeCutter(s, sh.Dir, sh.Units, c, f.replace, remarks)
		},
	}
	f.add(cmd)
	fl := cmd.Flags()
	fl.Var(&shape, "shape", "of a plain edge: "+source.Choice(shapes))
	fl.Var(&sure, "sure", "how far each size may err")
	fl.BoolVar(&ask, "ask", false, "ask for missing sizes even if the input is no terminal")
	sizes.add(fl)
	if err := cmd.MarkFlagRequired("joint"); err != nil {
		panic(err)
	}
	return cmd
}

// familiesText is what each family is measured by.
func familiesText() string {
	var b strings.Builder
	for _, f := range cutter.Families() {
		name := "--joint " + f.Joint
		if f.Shape != "" {
			name += " --shape " + f.Shape
		}
		fmt.Fprintf(&b, "%s\n%s\n\n", name, strings.TrimLeft(f.Drawing, "\n"))
		for _, s := range f.Sizes {
			fmt.Fprintf(&b, "    %s  --%-13s %s\n", s.Letter, s.Name, s.Says)
		}
		b.WriteString("\n")
	}
	return b.String()
}

// notOf refuses sizes that the family does not have.
func notOf(f *cutter.Family, have map[string]float64) error {
	known := map[string]bool{}
	for _, s := range f.Sizes {
		known[s.Name] = true
	}
	for _, other := range cutter.Families() { // in a fixed order
		for _, s := range other.Sizes {
			if _, given := have[s.Name]; given && !known[s.Name] {
				return fmt.Errorf("flag --%s: %s has no such size", s.Name, f.Name())
			}
		}
	}
	return nil
}

// lacking are the sizes that must be given and are not.
func lacking(f *cutter.Family, have map[string]float64) []string {
	var out []string
	for _, s := range f.Sizes {
		if _, given := have[s.Name]; !given && s.Usual == 0 {
			out = append(out, s.Name)
		}
	}
	return out
}

// onTerminal tells whether somebody can be asked.
func onTerminal(in io.Reader) bool {
	f, ok := in.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}
