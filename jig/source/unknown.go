package source

import (
	"slices"
	"strings"
)

// Done tells of every key that was never asked for.
func (s *Section) Done() {
	for k, v := range s.v.Fields {
		if slices.Contains(s.known, k) || v.Kind == Broken {
			continue
		}
		want := "one of " + strings.Join(s.known, ", ")
		if near := Nearest(k, s.known); near != "" {
			want = near
			// One slip of the pen is one fault.
			s.file.faults = slices.DeleteFunc(s.file.faults, func(f Fault) bool {
				return f.Have == missing && f.Key == join(s.v.Key, near)
			})
		}
		s.file.faults = append(s.file.faults, Fault{v.KeyPos, v.Key, "unknown key", want})
	}
}

// Nearest is the word that a misspelled one was meant to be: the one that differs
// from k by at most two changed, missing or additional letters, and by fewer than
// half of it; "" without one.
func Nearest(k string, words []string) string {
	best, least := "", min(3, (len(k)+1)/2)
	for _, w := range words {
		if d := distance(k, w); d < least {
			best, least = w, d
		}
	}
	return best
}

// distance is the number of letters to change, drop or add (Levenshtein 1966).
func distance(a, b string) int {
	if len(a) > 40 || len(b) > 40 {
		return len(a) + len(b)
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			d := diagonal
			if a[i] != b[j] {
				d++
			}
			diagonal = row[j+1]
			row[j+1] = min(d, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
