package posts

import (
	"fmt"

	"blockwright/gcode/proof"
	"blockwright/gcode/route"
	"blockwright/jig/joint"
	"blockwright/jig/plate"
	"blockwright/posts/dxf"
)

// facings designs the facing of one pass and tells how it is milled and used.
func (f *Fixture) facings(r Request, mark string) ([][]plate.Plate, error) {
	if r.Measured {
		return nil, &joint.Refusal{Why: joint.Saying("a facing stands %s clear of the cutter, so it needs no measured finish; make it without --finish", 0.5)}
	}
	designs, figures, err := plate.Facings(plate.FacingRequest{
		Pass: f.Pass, Table: r.Shop.Table, Thick: f.Sheet.Thick(), Mark: mark + "\nBACK",
	})
	if err != nil {
		return nil, err
	}
	f.Facing = &figures
	in := func(mm float64) string { return inUnit(mm, r.Shop.Units) }
	axis := fmt.Sprintf("the axis stands %s behind its face", in(figures.Fence))
	if figures.Fence < 0 {
		axis = fmt.Sprintf("the axis stands %s before its face", in(-figures.Fence))
	}
	f.hintInUse(fmt.Sprintf("the facing is %s thick and moves the fence's plane forward by that: set the fence itself so that %s", in(figures.Thick), axis))
	if figures.Lip < figures.Thick {
		f.hintInUse(fmt.Sprintf("milled with its back up, the engraved face: a pocket %s deep leaves a lip of %s at the face; the back goes against the fence", in(figures.Thick-figures.Lip), in(figures.Lip)))
	} else {
		f.hintInUse("milled with its back up, the engraved face: the back goes against the fence")
	}
	f.hintInUse(
		fmt.Sprintf("it stands %s clear of what the cutter sweeps; the face beside the widest land %s off it", in(figures.Clear), in(figures.Gap)),
		"set height and fence first; with the power disconnected put it on from the front and turn the cutter by hand: it must touch nowhere. Take it off before the height is changed",
		"facings are cut into when something moves: wood or another material that routes, never metal")
	return designs, nil
}

// pocketsOf are the pockets of a cut plate as route takes them.
func pocketsOf(c plate.Cut) []route.Pocket {
	var out []route.Pocket
	for _, k := range c.Floors {
		out = append(out, route.Pocket(k))
	}
	return out
}

// floorsFrom takes a part's pockets from its drawing: the layer POCKET, each floor at
// its elevation below the sheet's top.
func floorsFrom(part *proof.Part, d *dxf.Drawing, file string) error {
	floors, err := d.Floors("POCKET", file)
	if err != nil {
		return err
	}
	for _, k := range floors {
		if !(k.Z < 0) {
			return fmt.Errorf("%s: layer POCKET: a floor at elevation %g; want its depth below the sheet's top as an elevation less than 0", file, k.Z)
		}
		part.Pockets = append(part.Pockets, proof.Pocket{Floor: k.Region, Depth: -k.Z})
	}
	return nil
}
