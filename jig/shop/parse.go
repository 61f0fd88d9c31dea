package shop

import (
	"fmt"
	"path/filepath"
	"strconv"

	"blockwright/jig/source"
)

// FileName is the file that makes a folder a shop.
const FileName = "shop.toml"

// Load reads the shop in the folder dir. The error is a [source.Faults], or an
// [*fs.PathError] if the file cannot be read.
func Load(dir string) (*Shop, error) {
	s, _, err := LoadText(dir)
	return s, err
}

// LoadText is [Load] with the text of shop.toml, for those who keep its hash.
func LoadText(dir string) (*Shop, []byte, error) {
	name := filepath.Join(dir, FileName)
	text, err := source.Load(name)
	if err != nil {
		return nil, nil, err
	}
	s, err := Parse(name, text)
	return s, text, err
}

// Parse reads a shop from the text of shop.toml. name stands in the faults, and
// its folder becomes the shop's; nothing is opened. The error is a
// [source.Faults] with every fault of the file.
func Parse(name string, text []byte) (*Shop, error) {
	f := source.Open(name, text)
	top := f.Root()
	s := &Shop{Dir: filepath.Dir(name), Units: "mm"}
	if _, ok := top.Need("units", `"mm" or "in"`); ok {
		if u, ok := top.OneOf("units", "mm", "in"); ok {
			s.Units = u
		}
	}
	f.Units = s.Units
	if sec, ok := section(top, "table", "a table, [table]: the router table"); ok {
		s.Table = readTable(f, sec)
	}
	if sec, ok := section(top, "machine", "a table, [machine]: the machine that mills the plates"); ok {
		s.Machine = readMachine(f, sec)
	}
	readMills(f, top, s)
	if sec, ok := top.Section("engraver"); ok {
		s.Engraver = readEngraver(f, sec)
	}
	readSheets(f, top, s)
	s.Defaults = Standard()
	if sec, ok := top.Section("defaults"); ok {
		readDefaults(f, sec, &s.Defaults)
	}
	top.Done()
	if faults := f.Faults(); len(faults) > 0 {
		return nil, faults
	}
	return s, nil
}

func section(top *source.Section, key, want string) (*source.Section, bool) {
	if _, ok := top.Need(key, want); !ok {
		return nil, false
	}
	return top.Section(key)
}

// length reads a length that must be there.
func length(s *source.Section, key string, in source.Range) float64 {
	in.Unit = "mm"
	if _, ok := s.Need(key, "a length, "+in.String()); !ok {
		return 0
	}
	v, _ := s.Length(key, in)
	return v
}

func readTable(f *source.File, s *source.Section) Table {
	t := Table{
		InsertOpening: length(s, "insert_opening", source.Over(0, 300)),
		FenceWidth:    length(s, "fence_width", source.Over(0, 1000)),
		FenceHeight:   length(s, "fence_height", source.Over(0, 300)),
		LiftLow:       length(s, "lift_low", source.Within(-200, 200)),
		LiftHigh:      length(s, "lift_high", source.Within(-200, 200)),
	}
	t.InsertThickness, _ = s.Length("insert_thickness", source.Over(0, 50))
	t.Pin, _ = s.Length("pin", source.Within(0, 25))
	t.LiftPitch, _ = s.Length("lift_pitch", source.Over(0, 25))
	if lo, hi := both(s, "lift_low", "lift_high"); lo && hi && t.LiftHigh <= t.LiftLow {
		v, _ := s.Get("lift_high")
		f.Fault(v, fmt.Sprintf("%s, not above lift_low", v.Have()), "the lift's highest reach, above lift_low")
	}
	t.LeverPivot, _ = s.Length("lever_pivot", source.Over(0, 3000))
	t.LeverFree, _ = s.Length("lever_free", source.Over(0, 3000))
	switch pivot, free := both(s, "lever_pivot", "lever_free"); {
	case pivot && !free && !s.Has("lever_free"):
		v, _ := s.Get("lever_pivot")
		f.Fault(v, "lever_pivot without lever_free", "both for a pivoting fence, neither for a sliding one")
	case free && !pivot && !s.Has("lever_pivot"):
		v, _ := s.Get("lever_free")
		f.Fault(v, "lever_free without lever_pivot", "both for a pivoting fence, neither for a sliding one")
	case pivot && free && t.LeverPivot > 0 && t.LeverFree > 0 && t.LeverFree <= t.LeverPivot:
		v, _ := s.Get("lever_free")
		f.Fault(v, fmt.Sprintf("%s, not beyond the cutter", v.Have()), "more than lever_pivot")
	}
	s.Done()
	return t
}

// both tells which of two keys could be read.
func both(s *source.Section, a, b string) (bool, bool) {
	_, okA := s.Get(a)
	_, okB := s.Get(b)
	return okA, okB
}

func readMachine(f *source.File, s *source.Section) Machine {
	var m Machine
	if _, ok := s.Need("travel", "a list of 3 lengths, [X, Y, Z]"); ok {
		if l, ok := s.Lengths("travel", 3, source.Over(0, 10_000)); ok {
			m.Travel = [3]float64(l)
		}
	}
	m.FeedXY = length(s, "feed_xy", source.Over(0, 100_000))
	m.FeedZ = length(s, "feed_z", source.Over(0, 100_000))
	m.Accel = length(s, "accel", source.Over(0, 50_000))
	if v, ok := s.Need("spindle", "two speeds in rpm, [slowest, fastest]"); ok {
		m.SpindleLow, m.SpindleHigh = spindle(f, v)
	}
	m.Dial, _ = s.Bool("dial")
	if l, ok := s.Lengths("backlash", 2, source.Within(0, 2)); ok {
		m.Backlash = [2]float64(l)
	}
	s.Done()
	return m
}

var speeds = source.Range{Max: 100_000, Over: true, Unit: "rpm"}

func spindle(f *source.File, v source.Value) (low, high float64) {
	if v.Kind != source.Array || len(v.Items) != 2 {
		f.Fault(v, v.Have(), "two speeds in rpm, [slowest, fastest]")
		return 0, 0
	}
	low, okL := f.Number(v.Items[0], speeds)
	high, okH := f.Number(v.Items[1], speeds)
	if okL && okH && high < low {
		f.Fault(v, fmt.Sprintf("from %s to %s rpm", v.Items[0].Text, v.Items[1].Text), "the slowest speed first")
	}
	return low, high
}

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
		m := Mill{Diameter: length(sec, "diameter", source.Over(0, 50))}
		if _, ok := sec.Need("flutes", "a whole number, 1 to 12"); ok {
			m.Flutes, _ = sec.Count("flutes", source.Within(1, 12))
		}
		m.FluteLength = length(sec, "flute_length", source.Over(0, 200))
		m.StickOut = m.FluteLength
		if stick, ok := sec.Length("stick_out", source.Over(0, 300)); ok {
			m.StickOut = stick
			if stick < m.FluteLength {
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
		Tip:   length(s, "tip", source.Over(0, 5)),
		Depth: length(s, "depth", source.Over(0, EngraveMax)),
		Feed:  length(s, "feed", source.Over(0, 100_000)),
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
			if l, ok := sec.Lengths("size", 2, source.Over(0, 10_000)); ok {
				sh.Width, sh.Height = l[0], l[1]
			}
		}
		sh.Thickness = length(sec, "thickness", source.Over(0, 100))
		if m, ok := sec.Length("measured", source.Over(0, 120)); ok {
			sh.Measured = m
			if sh.Thickness > 0 && (m < 0.75*sh.Thickness || m > 1.25*sh.Thickness) {
				v, _ := sec.Get("measured")
				f.Fault(v, v.Have(), "a thickness within a quarter of the nominal one")
			}
		}
		sh.ChipLoad = length(sec, "chip_load", source.Over(0, 2))
		sh.StepDown = length(sec, "step_down", source.Over(0, 50))
		sec.Done()
		s.Sheets = append(s.Sheets, sh)
	}
}

func readDefaults(f *source.File, s *source.Section, d *Defaults) {
	set := func(at *float64, key string, in source.Range) {
		if v, ok := s.Length(key, in); ok {
			*at = v
		}
	}
	set(&d.Through, "through", source.Within(0, ThroughMax))
	set(&d.SafeZ, "safe_z", source.Within(1, 100))
	if v, ok := s.Number("ramp", source.Range{Max: 5, Over: true, Unit: "degrees"}); ok {
		d.Ramp = v
	}
	if v, ok := s.Number("feed_factor", source.Over(0, 1)); ok {
		d.FeedFactor = v
	}
	if v, ok := s.OneOf("zero", "table", "top"); ok {
		d.Zero = v
	}
	if v, ok := s.OneOf("hold", "tabs", "screws", "skin"); ok {
		d.Hold = v
	}
	if v, ok := s.Count("tabs", source.Within(2, 20)); ok {
		d.Tabs = v
	}
	set(&d.TabWidth, "tab_width", source.Within(1, 50))
	set(&d.TabHeight, "tab_height", source.Within(0.3, 20))
	set(&d.Skin, "skin", source.Within(0.1, 3))
	set(&d.Allowance, "allowance", source.Within(0, 2))
	set(&d.KerfExtra, "kerf_extra", source.Within(0, 5))
	if v, ok := s.Bool("climb"); ok {
		d.Climb = v
	}
	if v, ok := s.Bool("spring"); ok {
		d.Spring = v
	}
	set(&d.Overtravel, "overtravel", source.Within(0, 20))
	set(&d.Web, "web", source.Within(0, 20))
	set(&d.Clearance, "clearance", source.Within(0.1, 0.5))
	set(&d.Ease, "ease", source.Within(0, 2))
	if v, ok := s.Get("posts"); ok {
		d.Posts = posts(f, v)
	}
	s.Done()
}

// posts reads the list of words; whether there is a post of each name is for
// those to say who know the posts.
func posts(f *source.File, v source.Value) []string {
	if v.Kind != source.Array {
		f.Fault(v, v.Have(), "a list of names in quotes")
		return nil
	}
	var out []string
	for _, item := range v.Items {
		if item.Kind != source.Text || item.Text == "" {
			f.Fault(item, item.Have(), "a name in quotes")
			continue
		}
		out = append(out, item.Text)
	}
	return out
}
