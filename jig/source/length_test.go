package source_test

import (
	"fmt"
	"math/big"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"blockwright/jig/source"
)

func TestLength(t *testing.T) {
	for _, tt := range []struct {
		name, in, units string
		want            float64 // mm
		err             string  // part of the message; "" means it must succeed
	}{
		{"number in mm", "19", "mm", 19, ""},
		{"number in inches", "0.75", "in", 19.05, ""},
		{"unit of its own, mm", "19mm", "in", 19, ""},
		{"unit of its own, inch", "0.75in", "mm", 19.05, ""},
		{"inch mark", `3/4"`, "mm", 19.05, ""},
		{"fraction in mm", "1/2", "mm", 0.5, ""},
		{"inch fraction", "1/2in", "mm", 12.7, ""},
		{"mixed number", "1-3/4in", "mm", 44.45, ""},
		{"mixed number with a blank", "1 3/4 in", "mm", 44.45, ""},
		{"mixed number in the file's units", "1-3/4", "in", 44.45, ""},
		{"64th", "63/64in", "mm", 25.003125, ""},
		{"blanks", "  19 \t mm ", "in", 19, ""},
		{"negative", "-40", "mm", -40, ""},
		{"negative mixed number", "-1-1/2in", "mm", -38.1, ""},
		{"plus", "+5mm", "mm", 5, ""},
		{"zero", "0", "mm", 0, ""},
		{"negative zero", "-0", "mm", 0, ""},
		{"point first", ".5in", "mm", 12.7, ""},
		{"point last", "5.", "mm", 5, ""},
		{"exponent", "1.5e1", "mm", 15, ""},
		{"negative exponent", "25E-1mm", "mm", 2.5, ""},
		{"exact: no rounding twice", "0.1in", "mm", 2.54, ""},
		{"a thou", "0.001", "in", 0.0254, ""},

		{"nothing", "", "mm", 0, `length "": empty`},
		{"blank", "  ", "mm", 0, "empty"},
		{"unit alone", "in", "mm", 0, `length "in": no number before the unit`},
		{"other unit alone", "mm", "mm", 0, `length "mm": no number before the unit`},
		{"inch mark alone", `"`, "mm", 0, "no number before the unit"},
		{"sign alone", "-", "mm", 0, "no number"},
		{"sign and unit", "-mm", "mm", 0, "no number"},
		{"word", "wide", "mm", 0, "no number"},
		{"centimetres", "2cm", "mm", 0, `unknown unit "cm"`},
		{"feet", "2ft", "mm", 0, `unknown unit "ft"`},
		{"foot mark", "2'", "mm", 0, "unknown unit"},
		{"two units", "2 mm in", "mm", 0, `unknown unit "mm in"`},
		{"unit first", "mm2", "mm", 0, "not a number"},
		{"capitals", "2MM", "mm", 0, `unknown unit "MM"`},
		{"decimal comma", "0,75in", "mm", 0, "a decimal point is wanted, not a comma"},
		{"two points", "1.2.3", "mm", 0, "not a number"},
		{"point alone", ".", "mm", 0, "not a number"},
		{"underscore", "1_000", "mm", 0, "not a number"},
		{"hexadecimal", "0x10", "mm", 0, "not a number"},
		{"not a number", "nan", "mm", 0, "no number"},
		{"infinite", "inf", "mm", 0, "no number"},
		{"infinite with a unit", "infin", "mm", 0, "no number"},
		{"two signs", "--5", "mm", 0, "not a number"},
		{"division by zero", "1/0", "mm", 0, "division by zero"},
		{"nothing over nothing", "/", "mm", 0, "a fraction is two whole numbers"},
		{"no denominator", "3/in", "mm", 0, "a fraction is two whole numbers"},
		{"no numerator", "/4in", "mm", 0, "a fraction is two whole numbers"},
		{"two slashes", "1/2/3", "mm", 0, "a fraction is two whole numbers"},
		{"decimal numerator", "1.5/2", "mm", 0, "a fraction is two whole numbers"},
		{"negative denominator", "3/-4", "mm", 0, "a fraction is two whole numbers"},
		{"decimal whole number", "1.5-1/2", "mm", 0, "no whole number before the fraction"},
		{"fraction of 1 or more", "1-4/4in", "mm", 0, "the fraction behind a whole number is below 1"},
		{"two numbers", "1-2in", "mm", 0, "not a number"},
		{"two numbers with a blank", "1 2 in", "mm", 0, "not a number"},
		{"exponent without digits", "1e", "mm", 0, "unknown unit"},
		{"exponent with a fraction", "1e1/2", "mm", 0, "a fraction is two whole numbers"},
		{"exponent that overflows", "1e400", "mm", 0, "the exponent is out of range"},
		{"exponent that would take hours", "1e999999999", "mm", 0, "the exponent is out of range"},
		{"over 1 km", "1000001", "mm", 0, "longer than 1 km"},
		{"over 1 km below", "-1e7", "mm", 0, "longer than 1 km"},
		{"long", strings.Repeat("1", 61), "mm", 0, "longer than 60 characters"},
		{"unknown units of the file", "1", "cm", 0, `units are "cm"`},
		{"line end", "1\nmm", "mm", 0, "unknown unit"},
		{"letters of another script", "١٢", "mm", 0, "no number"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got, err := source.Length(tt.in, tt.units)
			if tt.err != "" {
				require.ErrorContains(t, err, tt.err)
				require.NotContains(t, err.Error(), "\n")
				return
			}
			require.NoError(t, err)
			require.Equal(t, tt.want, got) // to the last bit
		})
	}
}

// A length is the float64 nearest to the true value, in whichever form it is
// written: an inch is 25.4 mm exactly.
func TestLengthIsRoundedOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Int64Range(0, 40_000).Draw(t, "64ths")
		exact := new(big.Rat).SetFrac64(n*254, 640)
		want, _ := exact.Float64()
		for _, form := range []string{
			fmt.Sprintf("%d/64in", n),
			fmt.Sprintf("%d-%d/64in", n/64, n%64),
			new(big.Rat).SetFrac64(n, 64).FloatString(6) + "in", // 1/64 has six decimals
			exact.FloatString(8) + "mm",
		} {
			if strings.Contains(form, "-0/64") {
				continue
			}
			got, err := source.Length(form, "mm")
			if err != nil || got != want {
				t.Fatalf("%s: %v, %v; want %v", form, got, err, want)
			}
		}
		v := rapid.Float64Range(-1e5, 1e5).Draw(t, "mm")
		got, err := source.Length(strconv.FormatFloat(v, 'f', -1, 64), "mm")
		if err != nil && len(strconv.FormatFloat(v, 'f', -1, 64)) <= 60 || err == nil && got != v {
			t.Fatalf("%v came back as %v, %v", v, got, err)
		}
	})
}
