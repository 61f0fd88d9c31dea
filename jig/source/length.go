package source

import (
	"fmt"
	"math"
	"math/big"
	"strings"
)

// LengthMax is the greatest length in mm that can be written down: 1 km. What a
// key or flag allows is far less; the limit keeps arithmetic away from overflow.
const LengthMax = 1e6

// mmPerInch as a fraction: 25.4 exactly (ISO 31-1).
var mmPerInch = big.NewRat(254, 10)

// Length is the length s in mm, exact but for one rounding to float64. It reads a
// number in the given units ("mm" or "in") or one that carries its own:
//
//	19   0.75   1e2   19mm   0.75in   3/4in   1-3/4in   3/4"   1 3/4 in
//
// A fraction is made of whole numbers and, behind a whole number, below 1. The
// length may be negative or zero; at most [LengthMax].
func Length(s, units string) (float64, error) {
	fail := func(why string) (float64, error) {
		return 0, fmt.Errorf("length %s: %s", quoted(s), why)
	}
	if len(s) > 60 {
		return fail("longer than 60 characters")
	}
	t := strings.Trim(s, " \t")
	if t == "" {
		return fail("empty")
	}
	n := len(t)
	for n > 0 && !strings.ContainsRune("0123456789./", rune(t[n-1])) {
		n--
	}
	number, unit := strings.TrimRight(t[:n], " \t"), strings.TrimLeft(t[n:], " \t")
	if number == "" {
		switch unit {
		case "mm", "in", `"`, "+", "-":
			return fail("no number before the unit")
		}
		return fail("no number")
	}
	switch unit {
	case "":
		unit = units
	case "mm", "in":
	case `"`, "″":
		unit = "in"
	default:
		return fail("unknown unit " + quoted(unit))
	}
	v, why := rational(number)
	if why != "" {
		return fail(why)
	}
	switch unit {
	case "mm":
	case "in":
		v.Mul(v, mmPerInch)
	default:
		return fail(fmt.Sprintf("units are %s; want mm or in", quoted(unit)))
	}
	f, _ := v.Float64()
	if math.Abs(f) > LengthMax {
		return fail("longer than 1 km")
	}
	return f, nil
}

// rational reads a sign and a decimal number, a fraction, or a whole number with
// a fraction.
func rational(s string) (*big.Rat, string) {
	t, negative := s, false
	switch t[0] {
	case '+', '-':
		negative = t[0] == '-'
		t = t[1:]
	}
	v, why := new(big.Rat), ""
	if slash := strings.IndexByte(t, '/'); slash >= 0 {
		v, why = fraction(t[:slash], t[slash+1:])
	} else {
		v, why = decimal(t)
	}
	if why == "" && negative {
		v.Neg(v)
	}
	return v, why
}

// fraction reads n/d and w-n/d, cut at the slash.
func fraction(left, den string) (*big.Rat, string) {
	whole, num := "", left
	if i := strings.IndexAny(left, "- "); i >= 0 {
		whole, num = left[:i], strings.TrimLeft(left[i+1:], " ")
		if !digits(whole) {
			return nil, "no whole number before the fraction"
		}
	}
	if !digits(num) || !digits(den) {
		return nil, "a fraction is two whole numbers, as in 3/4"
	}
	n, _ := new(big.Int).SetString(num, 10)
	d, _ := new(big.Int).SetString(den, 10)
	if d.Sign() == 0 {
		return nil, "division by zero"
	}
	v := new(big.Rat).SetFrac(n, d)
	if whole != "" {
		if n.Cmp(d) >= 0 {
			return nil, "the fraction behind a whole number is below 1"
		}
		w, _ := new(big.Int).SetString(whole, 10)
		v.Add(v, new(big.Rat).SetInt(w))
	}
	return v, ""
}

// decimal reads digits with one point at most, and an exponent.
func decimal(s string) (*big.Rat, string) {
	mantissa, exponent := s, ""
	if i := strings.IndexAny(s, "eE"); i >= 0 {
		mantissa, exponent = s[:i], s[i+1:]
		e := strings.TrimLeft(exponent, "+-")
		if len(exponent)-len(e) > 1 || !digits(e) {
			return nil, "no number behind the exponent's e"
		}
		if e = strings.TrimLeft(e, "0"); len(e) > 2 {
			return nil, "the exponent is out of range"
		}
	}
	a, b, point := strings.Cut(mantissa, ".")
	if strings.Contains(s, ",") {
		return nil, "a decimal point is wanted, not a comma"
	}
	if !digits(a+b) || strings.Contains(b, ".") || point && a == "" && b == "" {
		return nil, "not a number"
	}
	v, ok := new(big.Rat).SetString(s)
	if !ok {
		return nil, "not a number"
	}
	return v, ""
}

func digits(s string) bool {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return s != ""
}

// Unit is the unit that a length carries, "mm" or "in"; the given units where it
// carries none.
func Unit(s, units string) string {
	switch t := strings.TrimRight(s, " \t"); {
	case strings.HasSuffix(t, "mm"):
		return "mm"
	case strings.HasSuffix(t, "in"), strings.HasSuffix(t, `"`), strings.HasSuffix(t, "″"):
		return "in"
	}
	return units
}
