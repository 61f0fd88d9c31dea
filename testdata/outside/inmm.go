package outside

import (
	"fmt"
	"math/big"
	"regexp"
	"strings"
)

// commentOrWord is a comment, which is left alone, or a word.
var commentOrWord = regexp.MustCompile(`\([^)]*\)|([A-Z])([-+]?[0-9]*\.?[0-9]*)`)

// InMM is an inch program in mm: G20 is G21, every length and feed is multiplied
// by 25.4, exactly, with one decimal more. The interpreter then prints its moves in
// four decimals of a mm instead of an inch, so that what is measured is the
// program's own words and not the print.
//
// It takes programs of our own, whose words have no blanks; of another one, or of
// one that is no inch program, it returns an error.
func InMM(program []byte) ([]byte, error) {
	inch, at := false, ""
	out := commentOrWord.ReplaceAllStringFunc(string(program), func(word string) string {
		switch word[0] {
		case 'G':
			if word == "G20" {
				inch = true
				return "G21"
			}
			if word == "G21" {
				at = word
			}
		case 'X', 'Y', 'Z', 'I', 'J', 'K', 'R', 'F':
			v, ok := new(big.Rat).SetString(word[1:])
			if !ok {
				at = word
				return word
			}
			_, part, _ := strings.Cut(word, ".")
			return word[:1] + v.Mul(v, big.NewRat(254, 10)).FloatString(len(part)+1)
		}
		return word
	})
	switch {
	case at != "":
		return nil, fmt.Errorf("%s in an inch program; want G20 and whole words", at)
	case !inch:
		return nil, fmt.Errorf("the program has no G20")
	}
	return []byte(out), nil
}
