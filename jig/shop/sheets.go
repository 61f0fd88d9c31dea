package shop

import (
	"blockwright/jig/source"
)

func readSheets(f *source.File, top *source.Section, s *Shop) {
	v, ok := top.Need("sheet", "at least one sheet, [[sheet]]")
	if !ok {
		return
	}
	if v.Kind == source.Array && len(v.Items) == 0 {
		f.Fault(v, "no sheet", "at least one, [[sheet]]")
	}
	names := map[string]source.Value{}
	for _, sec := range top.Sections("sheet") {
		var sh Sheet
		if _, ok := sec.Need("name", "a name in quotes, for --sheet"); ok {
			sh.Name = label(f, sec, names)
		}
		if _, ok := sec.Need("material", "a material in quotes"); ok {
			sh.Material, _ = sec.Label("material", 40)
		}
		if _, ok := sec.Need("size", "a list of 2 lengths, [X, Y]"); ok {
			if l, ok := sec.Lengths("size", 2, source.Within(1, 10_000)); ok {
				sh.Width, sh.Height = l[0], l[1]
			}
		}
		sh.Thickness = length(sec, "thickness", source.Within(0.1, 100))
		if m, ok := sec.Length("measured", source.Over(0, 100)); ok {
			sh.Measured = m
			if sh.Thickness > 0 && (m < 0.75*sh.Thickness || m > 1.25*sh.Thickness) {
				v, _ := sec.Get("measured")
				f.Fault(v, v.Have(), "a thickness within a quarter of the nominal one")
			}
		}
		sh.ChipLoad = length(sec, "chip_load", source.Within(0.001, 2))
		sh.StepDown = length(sec, "step_down", source.Within(0.05, 50))
		sec.Done()
		s.Sheets = append(s.Sheets, sh)
	}
}
