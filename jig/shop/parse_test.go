package shop_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"blockwright/jig/shop"
	"blockwright/jig/source"
)

var keyLine = regexp.MustCompile(`^([a-z_]+) *= *`)

// Each value of the starting shop, in both units, replaced by each of a number of
// wrong ones: one fault, at that very value. A key left out is missing or optional,
// a key given twice is a fault at the second.
func TestEveryValue(t *testing.T) {
	optional := map[string]bool{"insert_thickness": true, "pin": true, "lift_pitch": true, "dial": true, "backlash": true, "stick_out": true, "measured": true}
	for _, units := range []string{"mm", "in"} {
		lines := strings.Split(strings.TrimSpace(string(measured(units))), "\n")
		section, keys := "", 0
		for i, line := range lines {
			if strings.HasPrefix(line, "[") {
				section = strings.Fields(line)[0]
			}
			m := keyLine.FindStringSubmatch(line)
			if m == nil {
				continue
			}
			keys++
			key, column := m[1], len(m[0])+1
			with := func(instead string) source.Faults {
				edited := append([]string{}, lines...)
				edited[i] = instead
				_, err := shop.Parse("shop.toml", []byte(strings.Join(edited, "\n")))
				faults, _ := err.(source.Faults)
				return faults
			}
			for _, bad := range []string{"true", `"x"`, `"\u0007"`, "nan", "-1e9", "1e9", "[]", "{}", "{ a = 1 }", "1979-05-27", "[[1, 2], [3]]", `"1/0in"`, "99999999999999999999"} {
				if fine(key, section, bad) {
					continue
				}
				faults := with(m[0] + bad + " # changed")
				if bad == "[[1, 2], [3]]" && len(faults) == 2 { // a fault for each item
					faults = faults[:1]
				}
				require.Len(t, faults, 1, "%s %s = %s: %v", section, key, bad, faults)
				require.Equal(t, i+1, faults[0].Pos.Line, faults)
				require.GreaterOrEqual(t, faults[0].Pos.Column, column, faults)
				require.LessOrEqual(t, faults[0].Pos.Column, column+10, faults)
				require.True(t, strings.HasSuffix(strings.SplitN(faults[0].Key, "[", 3)[0], key) || strings.Contains(faults[0].Key, "."+key), faults)
				require.NotEmpty(t, faults[0].Want)
			}
			for _, broken := range []string{"", "1,5", "12 mm", "[1, 2", `"x`} {
				faults := with(m[0] + broken)
				require.NotEmpty(t, faults, "%s %s = %s", section, key, broken)
				if broken == "[1, 2" { // noticed where the next key or header begins
					require.Regexp(t, "still open|end of file inside a list", faults[0].Have)
					require.LessOrEqual(t, faults[0].Pos.Line, i+4)
					require.Len(t, faults, 1)
					continue
				}
				require.Equal(t, i+1, faults[0].Pos.Line, faults)
			}
			twice := with(line + "\n" + line)
			require.Len(t, twice, 1)
			require.Equal(t, fmt.Sprintf("shop.toml:%d:1", i+2), fmt.Sprintf("%v", twice[0].Pos))
			unknown := with(line + "\nx" + line)
			require.Len(t, unknown, 1)
			require.Equal(t, "unknown key", unknown[0].Have)
			require.Equal(t, key, unknown[0].Want)
			switch gone := with("# gone"); {
			case section == "[defaults]" || optional[key] || key == "name" && section != "[[sheet]]":
				require.Empty(t, gone, key)
			case key == "measured":
			default:
				require.Len(t, gone, 1, key)
				require.Equal(t, "missing", gone[0].Have)
				require.True(t, strings.HasSuffix(gone[0].Key, key))
			}
		}
		require.Greater(t, keys, 60)
	}
}

// fine tells whether the value is a right one for the key.
func fine(key, section, value string) bool {
	switch key {
	case "dial", "climb", "spring":
		return value == "true"
	case "name", "material":
		return value == `"x"` || value == `"1/0in"`
	case "posts":
		return value == "[]"
	case "measured":
		return section == "[[mill]]" && value == "{}"
	}
	return false
}

// Rules that tie two values together, and limits, each broken just so and told at
// its place; the value on the safe side of the limit passes.
func TestLimits(t *testing.T) {
	for _, tt := range []struct{ key, bad, want, good string }{
		{"units", `"MM"`, `"MM"; want mm or in`, `"mm"`},
		{"defaults.through", "0.51", "0.51 mm; want 0 to 0.5 mm", "0.5"},
		{"defaults.through", "-0.1", "-0.1 mm; want 0 to 0.5 mm", "0"},
		{"defaults.through", `"1/32in"`, "1/32in; want 0 to 0.5 mm", `"1/64in"`},
		{"engraver.depth", "0.6", "0.6 mm; want 0.01 to 0.5 mm", "0.5"},
		{"engraver.depth", "0", "0 mm; want 0.01 to 0.5 mm", "0.1"},
		{"engraver.tip", "1e-9", "1e-9 mm; want 0.01 to 5 mm", "0.1"},
		{"engraver.rpm", "1e-9", "1e-9 rpm; want 1 to 100000 rpm", "5000"},
		{"engraver.feed", "1e-9", "1e-9 mm/min; want 1 to 100000 mm/min", "500"},
		{"mill[1].flute_length", "28.1", "28.1, longer than stick_out; want flutes that end", "28"},
		{"mill[2].diameter", "0", "0 mm; want 0.1 to 50 mm", "0.1"},
		{"mill[2].diameter", "1e-9", "1e-9 mm; want 0.1 to 50 mm", "0.2"},
		{"mill[2].diameter", `"2in"`, "2in; want 0.1 to 50 mm", `"1in"`},
		{"mill[2].flutes", "0", "0; want 1 to 12", "1"},
		{"mill[2].flutes", "2.5", "2.5; want a whole number", "3"},
		{"mill[1].measured.birch-ply", "5.3", "5.3; want a diameter within a tenth", "5.5"},
		{"mill[1].measured.birch-ply", "0", "0 mm; want more than 0", "6"},
		{"mill[2].name", `"6 mm two-flute"`, `"6 mm two-flute", as in line`, `"other"`},
		{"mill[2].name", `" x"`, `want no blanks at either end`, `"x"`},
		{"sheet[2].name", `"birch-6"`, `"birch-6", as in line`, `"other"`},
		{"sheet[1].measured", "4.4", "4.4; want a thickness within a quarter", "4.5"},
		{"sheet[1].size", "[600]", "list of 1; want a list of 2 lengths", "[600, 400]"},
		{"sheet[1].size", "[600, 400, 6]", "list of 3; want a list of 2 lengths", "[5000, 5000]"},
		{"sheet[1].size[2]", "0", "0 mm; want 1 to 10000 mm", "1"},
		{"sheet[2].thickness", "1e-9", "1e-9 mm; want 0.1 to 100 mm", "0.5"},
		{"sheet[1].step_down", "0.001", "0.001 mm; want 0.05 to 50 mm", "0.1"},
		{"sheet[1].chip_load", "1e-9", "1e-9 mm; want 0.001 to 2 mm", "0.01"},
		{"sheet[1].thickness", "101", "101 mm; want 0.1 to 100 mm", "5"},
		{"defaults.overtravel", "10.1", "10.1 mm; want 0 to 10 mm", "10"}, // what gcode/route takes
		{"table.lift_high", "-40", "-40, not above lift_low; want the lift's highest reach", "-39"},
		{"table.pin", "-1", "-1 mm; want 0 to 25 mm", "0"},
		{"machine.spindle", "[24000, 10000]", "from 24000 to 10000 rpm; want the slowest speed first", "[18000, 18000]"},
		{"machine.spindle[1]", "0", "0 rpm; want 1 to 100000 rpm", "1"},
		{"machine.feed_xy", "1e-9", "1e-9 mm/min; want 1 to 100000 mm/min", "10"},
		{"machine.feed_z", "0.1", "0.1 mm/min; want 1 to 100000 mm/min", "10"},
		{"machine.accel", "1e-9", "1e-9 mm/s²; want 1 to 50000 mm/s²", "10"},
		{"machine.travel", "[700, 500]", "list of 2; want a list of 3 lengths", "[1, 1, 1]"},
		{"machine.travel[3]", "0", "0 mm; want 1 to 10000 mm", "1"},
		{"defaults.zero", `"bottom"`, `"bottom"; want table or top`, `"top"`},
		{"defaults.hold", `"tape"`, `"tape"; want tabs, screws or skin`, `"skin"`},
		{"defaults.tabs", "1", "1; want 2 to 20", "2"},
		{"defaults.ramp", "5.1", "5.1 degrees; want 0.1 to 5 degrees", "0.1"},
		{"defaults.feed_factor", "0", "0; want 0.01 to 1", "1"},
		{"defaults.feed_factor", "5e-324", "5e-324; want 0.01 to 1", "0.1"},
		{"table.lift_pitch", "1e-9", "1e-9 mm; want 0.01 to 25 mm", "1"},
		{"defaults.safe_z", "1", "1 mm; want 1.1 to 100 mm", "1.1"},
		{"defaults.clearance", "0.6", "0.6 mm; want 0.1 to 0.5 mm", "0.3"},
		{"defaults.posts", `["dxf", ""]`, `""; want a name in quotes`, `["dxf"]`},
		{"defaults.posts", `["dxf", 5]`, `5; want a name in quotes`, `["dxf", "svg"]`},
	} {
		t.Run(tt.key+"="+tt.bad, func(t *testing.T) {
			text := measured("mm")
			edited, err := source.Set(text, tt.key, tt.bad)
			require.NoError(t, err)
			_, err = shop.Parse("shop.toml", edited)
			require.ErrorContains(t, err, tt.want)
			faults := err.(source.Faults)
			require.Len(t, faults, 1)
			line := strings.Split(string(edited), "\n")[faults[0].Pos.Line-1]
			rest := string([]rune(line)[faults[0].Pos.Column-1:])
			if !strings.HasPrefix(rest, strings.TrimPrefix(tt.bad, `["dxf", `)[:1]) {
				t.Errorf("the fault points at %q", rest)
			}
			edited, err = source.Set(text, tt.key, tt.good)
			require.NoError(t, err)
			_, err = shop.Parse("shop.toml", edited)
			require.NoError(t, err)
		})
	}
}

// A key that is missing is wanted in the file's own units.
func TestMissingLengthInInches(t *testing.T) {
	text := string(shop.Start("in"))
	for key, want := range map[string]string{
		"flute_length": "want a length, 0.00394 to 7.87 in", "feed_xy": "want a length, 0.0394 to 3930 in/min",
	} {
		_, err := shop.Parse("shop.toml", []byte(strings.ReplaceAll(text, "\n"+key+" ", "\n# "+key+" ")))
		require.ErrorContains(t, err, want)
	}
}

// Keys that belong together, and whole tables that are not there.
func TestTables(t *testing.T) {
	text := string(measured("mm"))
	for _, tt := range []struct{ name, old, new, want string }{
		{"lever alone", "\npin ", "\nlever_pivot = 600\npin ", "lever_pivot without lever_free; want both"},
		{"free end alone", "\npin ", "\nlever_free = 900\npin ", "lever_free without lever_pivot; want both"},
		{"lever too short", "\npin ", "\nlever_pivot = 600\nlever_free = 600\npin ", "lever_free: 600, not beyond the cutter; want more than lever_pivot"},
		{"no machine", "[machine]", "[engraver.machine]", "shop.toml:1:1: machine: missing"},
		{"no sheet", "[[sheet]]", "[[sheets]]", "sheets: unknown key; want sheet"},
		{"no mill", "[[mill]]", "[[mills]]", "mills: unknown key; want mill"},
		{"one table for the mills", "[[mill]]", "[mill]", "mill: a second time"},
		{"mill list empty", "units = ", "mill = []\nunits = ", "mill: no end mill; want at least one"},
		{"mill numbers", "units = ", "mill = [6, 3]\nunits = ", "mill[1]: 6; want a table, [[mill]]"},
		{"table as a number", "units = ", "engraver = 5\nunits = ", "engraver: 5; want a table, [engraver]"},
		{"units gone", "units = ", "# units = ", "shop.toml:1:1: units: missing"},
		{"material with a line end", "{ birch-ply = 5.98 }", `{ "a\nb" = 5.98 }`, `"a\nb"; want as a material printable characters`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			require.Contains(t, text, tt.old)
			_, err := shop.Parse("shop.toml", []byte(strings.ReplaceAll(text, tt.old, tt.new)))
			require.ErrorContains(t, err, tt.want)
		})
	}
	good := strings.Replace(text, "\npin ", "\nlever_pivot = 600\nlever_free = 900\npin ", 1)
	s, err := shop.Parse("shop.toml", []byte(good))
	require.NoError(t, err)
	require.Equal(t, 900.0, s.Table.LeverFree)
}

// The least shop: what may be left out has a stated value.
func TestLeast(t *testing.T) {
	s, err := shop.Parse("there/shop.toml", []byte(`
units = "in"
[table]
insert_opening = 4
fence_width = 5
fence_height = 2
lift_low = -1.5
lift_high = 2
[machine]
travel = [24, 18, 3]
feed_xy = 100
feed_z = 30
accel = 10
spindle = [18000, 18000]
[[mill]]
diameter = "1/8"
flutes = 2
flute_length = 0.5
[[sheet]]
name = "ply"
material = "ply"
size = [24, 12]
thickness = 0.25
chip_load = 0.002
step_down = 0.05
`))
	require.NoError(t, err)
	require.Equal(t, "there", s.Dir)
	require.Equal(t, 101.6, s.Table.InsertOpening)
	require.Equal(t, 0.0, s.Table.Pin)
	require.Equal(t, 2540.0, s.Machine.FeedXY)
	require.Equal(t, 254.0, s.Machine.Accel)
	require.Equal(t, [2]float64{}, s.Machine.Backlash)
	require.False(t, s.Machine.Dial)
	require.Equal(t, shop.Mill{Name: "0.125 in", Diameter: 3.175, Flutes: 2, FluteLength: 12.7, StickOut: 12.7}, s.Mills[0])
	require.Equal(t, 3.175, s.Mills[0].Cuts("ply"))
	require.Nil(t, s.Engraver)
	require.Equal(t, 6.35, s.Sheets[0].Thick())
	require.Equal(t, shop.Standard(), s.Defaults)
}

// measured is the starting shop with its measured sizes filled in: the two lines
// that stand there as comments.
func measured(units string) []byte {
	text := strings.ReplaceAll(string(shop.Start(units)), "# measured ", "measured   ")
	return []byte(text)
}

// A new shop claims no measurement that nobody made.
func TestStartHasNothingMeasured(t *testing.T) {
	for _, units := range []string{"mm", "in"} {
		s, err := shop.Parse("shop.toml", shop.Start(units))
		require.NoError(t, err)
		for _, m := range s.Mills {
			require.Empty(t, m.Measured)
		}
		for _, sh := range s.Sheets {
			require.Zero(t, sh.Measured)
		}
	}
}

// The starting shop in mm states exactly the defaults, so that leaving a line out
// is what its comment says.
func TestStartStatesTheDefaults(t *testing.T) {
	s, err := shop.Parse("shop.toml", measured("mm"))
	require.NoError(t, err)
	d := shop.Standard()
	require.Empty(t, s.Defaults.Posts)
	s.Defaults.Posts = d.Posts
	require.Equal(t, d, s.Defaults)
	require.Equal(t, 98.0, s.Table.InsertOpening)
	require.Equal(t, [2]float64{120, 60}, [2]float64{s.Table.FenceWidth, s.Table.FenceHeight})
	require.Equal(t, [2]float64{-40, 60}, [2]float64{s.Table.LiftLow, s.Table.LiftHigh})
	require.Equal(t, 6.0, s.Table.Pin)
	for i, m := range [][2]float64{{6, 22}, {3.175, 15}, {2, 8}} {
		require.Equal(t, m, [2]float64{s.Mills[i].Diameter, s.Mills[i].FluteLength})
	}
	require.Equal(t, 5.98, s.Mills[0].Cuts("birch-ply"))
	require.Equal(t, 6.0, s.Mills[0].Cuts("oak"))
	require.Equal(t, [3]float64{600, 400, 6}, [3]float64{s.Sheets[0].Width, s.Sheets[0].Height, s.Sheets[0].Thickness})
	require.Equal(t, 6.1, s.Sheets[0].Thick())
	require.Equal(t, 9.0, s.Sheets[1].Thick())
}

// A shop in inches whose lengths are those of a shop in mm is the same shop: every
// length becomes the same float64.
func TestInchShop(t *testing.T) {
	text := string(measured("mm"))
	number := regexp.MustCompile(`-?\d+(\.\d+)?`)
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		m := keyLine.FindStringSubmatch(line)
		if m == nil {
			continue
		}
		switch m[1] {
		case "units":
			lines[i] = `units = "in"`
		case "name", "material", "flutes", "spindle", "dial", "rpm", "ramp", "feed_factor", "zero", "hold", "tabs", "climb", "spring", "posts":
		default:
			value, comment, _ := strings.Cut(line[len(m[0]):], "#")
			value = number.ReplaceAllString(value, `"${0}mm"`)
			lines[i] = m[0] + value + "#" + comment
		}
	}
	mm, err := shop.Parse("shop.toml", []byte(text))
	require.NoError(t, err)
	in, err := shop.Parse("shop.toml", []byte(strings.Join(lines, "\n")))
	require.NoError(t, err)
	require.Equal(t, "in", in.Units)
	in.Units = "mm"
	require.Equal(t, mm, in)
}

func FuzzParse(f *testing.F) {
	f.Add(measured("mm"))
	f.Add(measured("in"))
	f.Fuzz(func(t *testing.T, text []byte) {
		s, err := shop.Parse("shop.toml", text)
		if err != nil {
			return // refusing is right; panicking is not
		}
		require.NotEmpty(t, s.Mills)
		require.NotEmpty(t, s.Sheets)
		require.Less(t, s.Table.LiftLow, s.Table.LiftHigh)
		require.LessOrEqual(t, s.Defaults.Through, shop.ThroughMax)
		for _, m := range s.Mills {
			require.Positive(t, m.Diameter)
			require.GreaterOrEqual(t, m.StickOut, m.FluteLength)
		}
		for _, sh := range s.Sheets {
			require.Positive(t, sh.Thick())
		}
	})
}

// One character too many or too few anywhere in the file, as a slip of the hand
// makes it: hardly ever more than two faults, and the first one close by. A
// comment sign before a header moves all its keys; that cannot be guessed.
func TestOneSlip(t *testing.T) {
	text := string(measured("mm"))
	total, many, far := 0, 0, 0
	for i := 0; i < len(text); i += 5 {
		for _, slip := range []string{"", `"`, "[", "]", "=", ",", ".", "x", "\n", "{", "'"} {
			edited := text[:i] + slip + text[i:]
			if slip == "" {
				edited = text[:i] + text[i+1:]
			}
			_, err := shop.Parse("shop.toml", []byte(edited))
			faults, _ := err.(source.Faults)
			if len(faults) == 0 {
				continue
			}
			total++
			if len(faults) > 2 {
				many++
			}
			line := strings.Count(text[:i], "\n") + 1
			if d := faults[len(faults)-1].Pos.Line - line; d < -1 || d > 3 {
				far++
			}
		}
	}
	require.Greater(t, total, 1000)
	require.Less(t, many, total/100+1, "of %d slips", total)
	require.Less(t, far, total/50+1, "of %d slips", total)
}
