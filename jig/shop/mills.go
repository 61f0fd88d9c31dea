package shop

import (
	"fmt"
	"strconv"

	"blockwright/jig/source"
)

func readMills(f *source.File, top *source.Section, s *Shop) {
	v, ok := top.Need("mill", "at least one end mill, [[mill]]")
	if !ok {
		return
	}
	if v.Kind == source.Array && len(v.Items) == 0 {
		f.Fault(v, "no end mill", "at least one, [[mill]]")
	}
	names := map[string]source.Value{}
	for _, sec := range top.Sections("mill") {
		m := Mill{Diameter: length(sec, "diameter", source.Within(0.1, 50))}
		if _, ok := sec.Need("flutes", "a whole number, 1 to 12"); ok {
			m.Flutes, _ = sec.Count("flutes", source.Within(1, 12))
		}
		m.FluteLength = length(sec, "flute_length", source.Within(0.1, 200))
		m.StickOut = m.FluteLength
		if stick, ok := sec.Length("stick_out", source.Within(0.1, 300)); ok {
			m.StickOut = stick
			if m.FluteLength > stick {
				v, _ := sec.Get("flute_length")
				f.Fault(v, fmt.Sprintf("%s, longer than stick_out", v.Have()), "flutes that end outside the collet")
			}
		}
		m.Name = label(f, sec, names)
		if m.Name == "" {
			m.Name = sizeName(m.Diameter, s.Units)
		}
		m.Measured = measured(f, sec, m.Diameter)
		sec.Done()
		s.Mills = append(s.Mills, m)
	}
}

// sizeName is the name of a mill that has none.
func sizeName(d float64, units string) string {
	if units == "in" {
		return strconv.FormatFloat(d/25.4, 'g', 4, 64) + " in"
	}
	return strconv.FormatFloat(d, 'g', 4, 64) + " mm"
}

// label is the section's name, which no other section of its kind may have.
func label(f *source.File, s *source.Section, taken map[string]source.Value) string {
	name, ok := s.Label("name", 40)
	if !ok {
		return ""
	}
	v, _ := s.Get("name")
	if first, there := taken[name]; there {
		f.Fault(v, fmt.Sprintf("%s, as in line %d", v.Have(), first.Pos.Line), "a name of its own")
		return name
	}
	taken[name] = v
	return name
}

// measured reads the true cutting diameters by material. One that differs from
// the nominal by more than a tenth is a slip or another mill: derived here.
func measured(f *source.File, s *source.Section, nominal float64) map[string]float64 {
	sec, ok := s.Section("measured")
	if !ok {
		return nil
	}
	out := map[string]float64{}
	for material, v := range sec.Value().Fields {
		if why := source.LabelFault(material, 40); why != "" {
			f.Fault(v, strconv.Quote(material), "as a material "+why)
			continue
		}
		d, ok := f.Length(v, source.Over(0, 60))
		if ok && nominal > 0 && (d < 0.9*nominal || d > 1.1*nominal) {
			f.Fault(v, v.Have(), "a diameter within a tenth of the nominal one")
			continue
		}
		out[material] = d
	}
	return out
}

func readEngraver(f *source.File, s *source.Section) *Engraver {
	e := &Engraver{
		Tip:   length(s, "tip", source.Within(0.01, 5)),
		Depth: length(s, "depth", source.Within(0.01, EngraveMax)),
		Feed:  length(s, "feed", feeds),
	}
	if _, ok := s.Need("rpm", speeds.String()); ok {
		e.RPM, _ = s.Number("rpm", speeds)
	}
	e.Name = label(f, s, map[string]source.Value{})
	if e.Name == "" {
		e.Name = "engraving tool"
	}
	s.Done()
	return e
}
