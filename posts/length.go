package posts

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Fixed is the number with the given decimals, never a negative zero.
func Fixed(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}

// Ruler is a length in mm as a ruler in inches shows it: the nearest 64th of an inch
// and what is left over, in inches to 0.0001. It is empty where that says nothing: next
// to zero, and beyond any ruler.
//
//	3/4 - 0.0020
//	-(7/32 - 0.0022)
func Ruler(mm float64) string {
	inch := mm / InchMM
	n := math.Round(math.Abs(inch) * 64)
	if n == 0 || n > 64*1000 || math.IsNaN(n) {
		return ""
	}
	rest := math.Abs(inch) - n/64
	text := Fraction(int(n))
	if r := Fixed(math.Abs(rest), 4); strings.Trim(r, "0.") != "" {
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
	return text
}

// Fraction is n 64ths of an inch as a ruler is marked: 1-3/4.
func Fraction(n int) string {
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
