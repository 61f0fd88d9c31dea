package posts

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"blockwright/jig/joint"
	"blockwright/jig/shop"
)

// pickSheet finds the sheet by its name; "" is the first.
func pickSheet(s *shop.Shop, name string) (shop.Sheet, error) {
	if name == "" && len(s.Sheets) > 0 {
		return s.Sheets[0], nil
	}
	var names []string
	for _, sh := range s.Sheets {
		if sh.Name == name {
			return sh, nil
		}
		names = append(names, sh.Name)
	}
	return shop.Sheet{}, fmt.Errorf("sheet %q is not in the shop; want one of %s", name, strings.Join(names, ", "))
}

// pickMills lists the end mills that can go through the sheet, largest first, or
// the one of the diameter asked for.
func pickMills(s *shop.Shop, sheet shop.Sheet, diameter float64) ([]shop.Mill, error) {
	depth := sheet.Thick() + s.Defaults.Through
	var out []shop.Mill
	var have []any
	for _, m := range s.Mills {
		have = append(have, m.Diameter)
		if diameter > 0 && math.Abs(m.Diameter-diameter) > 0.005 {
			continue
		}
		if m.FluteLength > depth {
			out = append(out, m)
		} else if diameter > 0 {
			return nil, joint.Refuse("end mill %s: flutes of %s; sheet \"%s\" and the cut into the spoilboard need more than %s", m.Name, m.FluteLength, sheet.Name, depth)
		}
	}
	if len(out) == 0 {
		if diameter > 0 {
			text := "no end mill of %s in the shop; it has %s" + strings.Repeat(", %s", len(have)-1)
			return nil, joint.Refuse(text, append([]any{diameter}, have...)...)
		}
		return nil, joint.Refuse("no end mill of the shop has flutes longer than %s, which sheet \"%s\" and the cut into the spoilboard need: take a thinner sheet (--sheet) or a longer mill", depth, sheet.Name)
	}
	slices.SortStableFunc(out, func(a, b shop.Mill) int {
		switch {
		case a.Diameter > b.Diameter:
			return -1
		case a.Diameter < b.Diameter:
			return 1
		}
		return 0
	})
	return out, nil
}
