package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"blockwright/jig/cutter"
	"blockwright/jig/joint"
	"blockwright/jig/shop"
)

// jointFlags say which joint is meant beside cutter and stock: setting, make and
// adjust take the same.
type jointFlags struct {
	land, side, overlay, skim lengthFlag
	with                      nameFlag
	at                        landingFlag
}

// add gives the command the flags.
func (f *jointFlags) add(cmd *cobra.Command) {
	f.land.sign, f.side.sign, f.overlay.sign, f.skim.sign = notNegative, positive, notNegative, notNegative
	fl := cmd.Flags()
	fl.Var(&f.land, "land", "`width` of a land to leave on both tips")
	fl.Var(&f.side, "side", "`thickness` of the upright board, or of a drawer's side, where it differs")
	fl.Var(&f.overlay, "overlay", "`width` by which a drawer's front stands beyond its side")
	fl.Var(&f.skim, "skim", "least `depth` that an edge joint's pass takes off")
	fl.Var(&f.with, "with", "handle of a matched set's other `cutter`")
	fl.Var(&f.at, "at", "where a point of the profile lands, as `r,h=x,z`")
}

// request is the joint of a cutter for each thickness in mm. The second cutter's
// file is read once. A flag that the cutter's joint cannot do without and that is not
// there is a wrong command line.
func (f *jointFlags) request(sh *shop.Shop, c *cutter.Cutter) (func(stock float64) joint.Request, error) {
	switch {
	case c.Joint == "matched" && f.with.text == "":
		return nil, &usageError{err: fmt.Errorf("missing: flag --with: cutter %s is one of a set; want the other one", c.Handle)}
	case c.Joint == "edge" && f.at.text == "":
		return nil, &usageError{err: fmt.Errorf("missing: flag --at: cutter %s shapes an edge; want the point of its profile and where it lands, r,h=x,z: height and fence follow from it", c.Handle)}
	}
	r := joint.Request{Cutter: c, At: f.at.landing(sh.Units), Web: max(sh.Defaults.Web, leastWeb)}
	if f.with.text != "" {
		var err error
		if r.With, err = cutter.Find(sh.Dir, f.with.text); err != nil {
			return nil, err
		}
	}
	for _, l := range []struct {
		flag *lengthFlag
		to   *float64
	}{{&f.land, &r.Land}, {&f.side, &r.Other}, {&f.overlay, &r.Overlay}, {&f.skim, &r.Skim}} {
		if l.flag.set {
			*l.to = l.flag.mm(sh.Units)
		}
	}
	return func(stock float64) joint.Request {
		j := r
		j.Stock = stock
		return j
	}, nil
}

// typed is the flags as they were typed, each with a blank before it.
func (f *jointFlags) typed() string {
	text := ""
	for _, l := range []struct {
		name string
		flag *lengthFlag
	}{{"land", &f.land}, {"side", &f.side}, {"overlay", &f.overlay}, {"skim", &f.skim}} {
		if l.flag.set {
			text += " --" + l.name + " " + typed(l.flag.text)
		}
	}
	if f.with.text != "" {
		text += " --with " + f.with.text
	}
	if f.at.text != "" {
		text += " --at " + typed(f.at.text)
	}
	return text
}

// leastWeb stands for a shop's web of 0, which a joint's request takes for none
// stated.
const leastWeb = 1e-9
