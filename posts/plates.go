package posts

import (
	"fmt"
	"strings"

	"blockwright/gcode"
	"blockwright/jig/plate"
)

// from is what a gauge measures from: what was asked for, else the setup pin where
// the shop has one and the radii are known, which a trace or a drawing may leave open.
func (r Request) from() string {
	switch {
	case r.Kind != "gauge":
		return ""
	case r.From != "":
		return r.From
	case r.Shop.Table.Pin > 0 && r.Joint.Cutter.Known[0] && (r.Joint.With == nil || r.Joint.With.Known[0]):
		return "pin"
	}
	return "cutter"
}

// plates designs the fixture's plates: alternatives, best first.
func (f *Fixture) plates(r Request) ([][]plate.Plate, error) {
	d := r.Shop.Defaults
	c := f.Pass.Cutter
	mark := strings.ToUpper(c.Name + "\n" + stockMark(r))
	if r.Variant != "" {
		mark += "\n" + strings.ToUpper(f.Pass.Name)
	}
	if !r.Applied.None() {
		mark += "\n" + correctionMark(r)
		f.Hints = append(f.Hints, "corrected by a test cut: "+r.corrected()+" than computed")
	}
	if t := c.Traced; t != nil && r.Kind != "trial" {
		in := func(mm float64) string { return inUnit(mm, r.Shop.Units) }
		f.Hints = append(f.Hints, fmt.Sprintf("rests on a trace of cutter %s: centre sure to %s, profile to %s (95 %%)", c.Handle, in(t.Centre), in(t.Profile)))
	}
	switch r.Kind {
	case "block":
		f.Title = fmt.Sprintf("Height setup block for %s, stock %s", c.Name, r.Stock)
		return plate.Blocks(plate.BlockRequest{
			Pass: f.Pass, Table: r.Shop.Table, Thick: f.Sheet.Thick(), Clear: d.Clearance, Ease: d.Ease, Mark: mark,
		})
	case "gauge":
		f.Title = fmt.Sprintf("Fence-offset gauge for %s, stock %s", c.Name, r.Stock)
		if !c.Known[0] && r.from() == "pin" {
			return nil, fmt.Errorf("gauge: the radius of cutter %s is not known, so nothing can be measured from its axis; want --from cutter", c.Handle)
		}
		p, contact, err := plate.Gauge(plate.GaugeRequest{
			Pass: f.Pass, Table: r.Shop.Table, Thick: f.Sheet.Thick(), Sheets: r.Shop.Sheets, From: r.from(),
			Mark: mark + "\n" + strings.ToUpper(gaugeMark(r)),
		})
		if err != nil {
			return nil, err
		}
		f.Contact = &contact
		return [][]plate.Plate{{p}}, nil
	}
	what := fmt.Sprintf("for %s, stock %s", c.Name, r.Stock)
	switch r.Kind {
	case "strip":
		f.Title = "Guide strips " + what
		return f.strips(r, mark)
	case "coupon":
		f.Title = "Coupons " + what
		return plate.Coupons(plate.CouponRequest{Setting: f.Setting, Clear: d.Clearance, Ease: d.Ease, Mark: mark})
	case "facing":
		f.Title = "Fence facing " + what
		return f.facings(r, mark)
	case "trial":
		f.Title = "Trial pieces"
		return [][]plate.Plate{plate.Trial(strings.ToUpper("trial\n" + f.Sheet.Material))}, nil
	}
	return nil, fmt.Errorf("unknown fixture %q; want one of %s", r.Kind, strings.Join(Kinds(), ", "))
}

// strips designs the guide strips of both passes on one sheet.
func (f *Fixture) strips(r Request, mark string) ([][]plate.Plate, error) {
	var all []plate.Plate
	for _, p := range f.Setting.Passes {
		ps, err := plate.Strips(plate.StripRequest{
			Pass: p, Table: r.Shop.Table, Thick: f.Sheet.Thick(), Width: r.Width,
			Mark: mark + "\n" + strings.ToUpper(p.Name),
		})
		if err != nil {
			return nil, err
		}
		for _, s := range ps {
			s.Part = p.Name + " " + s.Part
			all = append(all, s)
		}
		if len(ps) > 1 {
			f.hintInUse(fmt.Sprintf("%s pass: glue the %d layers on one another to one strip", p.Name, len(ps)))
		}
	}
	f.hintInUse("strips are cut into: wood or another material that routes, never metal")
	return [][]plate.Plate{all}, nil
}

// stockMark is the stock as it is engraved: the letters have no quotes.
func stockMark(r Request) string {
	s := "T " + inUnit(r.Stock.MM, r.Stock.Unit)
	if l := r.Joint.Land; l > 0 {
		s += " land " + inUnit(l, r.Stock.Unit)
	}
	return s
}

// inUnit is a length as it is engraved.
func inUnit(mm float64, unit string) string {
	if unit == "in" {
		return gcode.Number(mm/InchMM, 4) + " in"
	}
	return gcode.Number(mm, 3) + " mm"
}

// correctionMark is the correction as it is engraved: height and fence apart from
// the computed setting.
func correctionMark(r Request) string {
	in := func(mm float64) string {
		s := inUnit(mm, r.Shop.Units)
		if mm > 0 {
			s = "+" + s
		}
		return s[:strings.IndexByte(s, ' ')]
	}
	return "COR H " + in(r.Applied.Height) + " D " + in(r.Applied.Fence)
}

func gaugeMark(r Request) string {
	if r.from() == "pin" {
		return "pin " + inUnit(r.Shop.Table.Pin, r.Shop.Units)
	}
	return "on cutter"
}
