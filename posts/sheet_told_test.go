package posts

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/jig/joint"
)

// told is a section of a sheet in words: its steps, paragraphs, commands and tables.
func told(t *testing.T, f *Fixture, name string) string {
	t.Helper()
	s, err := sheetOf(f)
	require.NoError(t, err)
	for _, sec := range s.Sections {
		if sec.Name == name {
			sec.Figures = nil
			return fmt.Sprintf("%+v", sec)
		}
	}
	return ""
}

func factsOf(t *testing.T, f *Fixture) map[string]string {
	t.Helper()
	s, err := sheetOf(f)
	require.NoError(t, err)
	out := map[string]string{}
	for _, x := range s.Facts {
		out[x.Name] = x.Text
	}
	return out
}

// The sheet of a measured fixture leads through both programs, in this order, with
// the sizes that the witness has between and after them; one of another fixture does
// not speak of it.
func TestSheetLeadsThroughBothPrograms(t *testing.T) {
	s, c := startedShop(t, "mm")
	f, err := design(Request{Shop: s, Joint: joint.Request{Cutter: c, Stock: 20}, Stock: Measure{20, "mm"}, Kind: "block", Version: "test", Measured: true})
	require.NoError(t, err)
	text := told(t, f, "two-programs")
	at := 0
	for _, want := range []string{
		"stays clamped", "zero of X, Y and Z stays as it is", "set its Z zero", "frame program",
		"ridge-lock-20mm-block.ngc or ridge-lock-20mm-block.nc", "leaves 0.2 mm on every wall", "power from the spindle",
		"across X (G to J) and across Y (H to K)", "blockwright finish ridge-lock-20mm-block --witness 40.4mm,60.4mm",
		"ridge-lock-20mm-block.finish.ngc or ridge-lock-20mm-block.finish.nc", "same zero", "40 mm and 60 mm now", "40.400", "40.000", "60.400", "60.000",
	} {
		k := strings.Index(text[at:], want)
		require.GreaterOrEqual(t, k, 0, "%q after %q", want, text[:at])
		at += k
	}
	assert.Contains(t, told(t, f, "milling"), ".finish.ngc finishing program, after measuring; 'blockwright finish' writes it")
	for _, n := range seatNames(pictureOf(f).Parts) {
		if pictureOf(f).Parts[n.part].Kind == "witness" {
			got, err := sheetOf(f)
			require.NoError(t, err)
			for _, sec := range got.Sections {
				for _, k := range sec.Keys {
					assert.NotContains(t, strings.Fields(k.Name), n.letter, "the witness is no seat at the table")
				}
			}
		}
	}
	assert.Empty(t, told(t, designed(t, "block", joint.Request{Cutter: c, Stock: 20}, "mm"), "two-programs"))
}

// A facing's sheet says how far the fence goes back and where its axis is then: for
// the worked cutter 9.5 - 6 = 3.5 mm behind the bare fence at 19 mm, and
// 4 - 6 = 2 mm in front of it at 30 mm. By hand.
func TestSheetGivesTheFencesShift(t *testing.T) {
	for stock, want := range map[float64][2]string{19: {"3.500 mm", "3.500 mm behind the bare fence"}, 30: {"−2.000 mm", "2.000 mm in front of the bare fence"}} {
		f := designed(t, "facing", joint.Request{Cutter: worked(1), Stock: stock}, "mm")
		text := told(t, f, "use")
		assert.Contains(t, text, "Move the fence back by 6 mm (0.2362 in)", "%g", stock)
		assert.Contains(t, text, want[1], "%g", stock)
		s, err := sheetOf(f)
		require.NoError(t, err)
		last := s.Places[len(s.Places)-1]
		assert.Equal(t, "bare fence", last.Name)
		assert.Equal(t, want[0], last.Text)
		require.NoError(t, f.proveSheet(sheetText(t, f)))
	}
}

// Which face of the board lies where is said for each pass, in words and in the
// drawing of the strips: a corner's boards differ from those of an edge, and of an edge
// the second board is turned over.
func TestSheetSaysWhichFace(t *testing.T) {
	requests := everyRequest(t)
	corner, edge := designed(t, "strip", requests["lock miter"], "mm"), designed(t, "strip", requests["edge glue"], "mm")
	assert.Equal(t, "inside face down, flat on the table", factsOf(t, corner)["Flat pass, board"])
	assert.Equal(t, "on its end, inside face against the fence", factsOf(t, corner)["Upright pass, board"])
	assert.Equal(t, "good face down, flat on the table", factsOf(t, edge)["Flat pass, board"])
	assert.Equal(t, "good face up, flat on the table", factsOf(t, edge)["Turned pass, board"])
	assert.Contains(t, told(t, edge, "use"), "turn the board over, good face up. Tape the strip that is marked TURNED")
	assert.NotContains(t, told(t, edge, "use"), "upright")
	assert.Contains(t, told(t, corner, "use"), "layers: upright 5")
	for _, x := range []struct {
		f    *Fixture
		want string
	}{{corner, "inside face"}, {edge, "good face"}} {
		p := pictureOf(x.f)
		c := draw(p)
		var at []float64
		for _, l := range c.Labels() {
			if l.Text == x.want {
				at = append(at, l.At[1])
			}
		}
		require.Len(t, at, 2, x.want)
	}
	// A block of a drawer lock's side is for the upright pass alone.
	s, _ := startedShop(t, "mm")
	r := requests["drawer lock"]
	f, err := design(Request{Shop: s, Joint: r, Stock: Measure{r.Stock, "mm"}, Kind: "block", Pass: 1, Variant: "upright", Version: "test"})
	require.NoError(t, err)
	facts := factsOf(t, f)
	assert.Equal(t, "on its end, inside face against the fence", facts["Upright pass, sides"])
	assert.NotContains(t, facts, "Flat pass, front and back")
	assert.Contains(t, facts, "Spacer, fence to stop")
}

// Each of two coupons is marked with the pass whose board it is, so that the sheet can
// name it.
func TestCouponsAreMarkedApart(t *testing.T) {
	for _, name := range []string{"drawer lock", "tongue"} {
		f := designed(t, "coupon", everyRequest(t)[name], "mm")
		require.Len(t, f.Fitted, 2)
		for i, c := range f.Fitted {
			assert.Contains(t, c.Mark, strings.ToUpper(f.Setting.Passes[i].Name), name)
		}
	}
	one := designed(t, "coupon", everyRequest(t)["lock miter"], "mm")
	assert.NotContains(t, one.Fitted[0].Mark, "FLAT")
}

// In an inch shop a size that is a 64th of an inch is said as one, and one that is not
// in decimals; what goes into a command stays decimal.
func TestSheetFractions(t *testing.T) {
	m := sheetMaker{units: "in"}
	assert.Equal(t, "3/4 in", m.short(19.05))
	assert.Equal(t, "1-3/4 in", m.short(44.45))
	assert.Equal(t, "0.2362 in", m.short(6))
	assert.Equal(t, "0.75in", m.typedLength(19.05))
	assert.Equal(t, "3/4 in (19.05 mm)", m.both(19.05))
}

// Of layers that are alike only the first is dimensioned.
func TestLayersAreDimensionedOnce(t *testing.T) {
	f := designed(t, "strip", everyRequest(t)["lock miter"], "mm")
	p := pictureOf(f)
	var sized []bool
	for i := range p.Parts {
		sized = append(sized, p.sizedAlready(i))
	}
	assert.Equal(t, []bool{false, false, true, true, true, true}, sized)
}

// What an error shows is said as it is: with no skim a fence too far forward leaves the
// tips of an edge joint uncut, and with a skim it does not until that is used up.
func TestSheetSaysWhatAnErrorShows(t *testing.T) {
	for skim, want := range map[float64]string{0: "Faces level; tips open by 0.10.", 0.5: "Faces level."} {
		f := designed(t, "coupon", joint.Request{Cutter: exampleCutter(t, "glue"), Stock: 19, Skim: skim}, "mm")
		m := sheetMaker{f: f, units: "mm"}
		assert.Equal(t, want, m.felt(joint.Error{E: -0.1}), "skim %g", skim)
		assert.Equal(t, "Faces step +0.20.", m.felt(joint.Error{DZ: 0.1}))
	}
	m := sheetMaker{f: designed(t, "coupon", everyRequest(t)["tongue"], "mm"), units: "mm"}
	assert.Equal(t, "Faces close.", m.felt(joint.Error{E: 0.1}))
	assert.Equal(t, "Second board 0.10 down.", m.felt(joint.Error{DZ: 0.1}))
}

// The sheet of a plain edge says what it is set for: the point and where it lands.
func TestSheetSaysWhereAnEdgeLands(t *testing.T) {
	f := designed(t, "coupon", everyRequest(t)["round-over"], "mm")
	assert.Equal(t, "the profile's point at radius 6.35 mm, height 6 mm lands 0 mm out of the fence, 6 mm above the table", factsOf(t, f)["Set so that"])
	s, err := sheetOf(f)
	require.NoError(t, err)
	assert.Contains(t, s.Lead, "The edge as it should be.")
	assert.Contains(t, s.Title, "stock 19\u00a0mm")
}
