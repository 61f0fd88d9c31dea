package posts

import (
	"fmt"
	"math"
)

// ClockTime is seconds as hours, minutes and seconds.
func ClockTime(seconds float64) string {
	if !(seconds < 1e7) {
		return "more than 100 days"
	}
	n := int(math.Round(seconds))
	h, m, s := n/3600, n/60%60, n%60
	switch {
	case h > 0:
		return fmt.Sprintf("%d h %02d min %02d s", h, m, s)
	case m > 0:
		return fmt.Sprintf("%d min %02d s", m, s)
	}
	return fmt.Sprintf("%d s", s)
}
