package gcode

import (
	"math"
	"strconv"
)

// powers of ten that a float64 holds exactly.
var powers = [...]float64{1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

// exactDigits is how many digits the fast way takes: below 10^15 the digits are
// a whole number that a float64 holds, the power of ten is exact too, so their
// quotient is rounded once and is the float64 nearest to the text.
const exactDigits = 15

// AppendNumber appends v/10^decimals in shortest decimals: no exponent, no
// trailing zeros, no point without decimals, never "-0". It is the only place
// that formats numbers of programs.
func AppendNumber(dst []byte, v int64, decimals int) []byte {
	if v < 0 {
		dst = append(dst, '-')
	}
	u := uint64(v)
	if v < 0 {
		u = -u
	}
	pow := uint64(powers[decimals])
	dst = strconv.AppendUint(dst, u/pow, 10)
	rest := u % pow
	if rest == 0 {
		return dst
	}
	dst = append(dst, '.')
	for rest > 0 {
		pow /= 10
		dst = append(dst, byte('0'+rest/pow))
		rest %= pow
	}
	return dst
}

// Number is v rounded to so many decimals, half away from zero, in shortest
// form. What is no number, or beyond 10^15 steps, gives "?".
func Number(v float64, decimals int) string {
	n, ok := steps(v, decimals)
	if !ok {
		return "?"
	}
	return string(AppendNumber(nil, n, decimals))
}

// steps is v in steps of its last decimal.
func steps(v float64, decimals int) (int64, bool) {
	s := math.Round(v * powers[decimals])
	if !(math.Abs(s) < 1e15) {
		return 0, false
	}
	return int64(s), true
}
