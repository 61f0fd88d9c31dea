package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// inUnits is a length in mm as the shop's people read it: to 0.001 mm, or in
// decimal inches to 0.0001 with the nearest 64th of an inch and what is left over.
//
//	19.000 mm
//	0.7480 in (3/4 - 0.0020)
func inUnits(mm float64, units string) string {
	if units != "in" {
		return fixed(mm, 3) + " mm"
	}
	inch := mm / 25.4
	out := fixed(inch, 4) + " in"
	n := math.Round(math.Abs(inch) * 64)
	if n == 0 || n > 64*1000 || math.IsNaN(n) {
		return out
	}
	rest := math.Abs(inch) - n/64
	text := ruler(int(n))
	if r := fixed(math.Abs(rest), 4); strings.Trim(r, "0.") != "" {
		op := " + "
		if rest < 0 {
			op = " - "
		}
		text += op + r
		if inch < 0 {
			text = "(" + text + ")"
		}
	}
	if inch < 0 {
		text = "-" + text
	}
	return out + " (" + text + ")"
}

// ruler is n 64ths of an inch as a ruler shows it: 1-3/4.
func ruler(n int) string {
	whole, num, den := n/64, n%64, 64
	for num > 0 && num%2 == 0 {
		num, den = num/2, den/2
	}
	switch {
	case num == 0:
		return strconv.Itoa(whole)
	case whole == 0:
		return fmt.Sprintf("%d/%d", num, den)
	}
	return fmt.Sprintf("%d-%d/%d", whole, num, den)
}

// fixed is the number with the given decimals, never a negative zero.
func fixed(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}
