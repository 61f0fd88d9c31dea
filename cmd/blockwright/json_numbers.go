package main

import (
	"bytes"
	"math"
	"strconv"
)

// jsonStep is what numbers in JSON are rounded to: far below what any of them means,
// and far above what two processors may differ by.
const jsonStep = 1e-9

// roundNumbers rounds the numbers of a JSON text to [jsonStep], strings left alone:
// 0.19999999999999929 is 0.2, and the same input gives the same bytes everywhere.
func roundNumbers(text []byte) []byte {
	var out bytes.Buffer
	out.Grow(len(text))
	for i := 0; i < len(text); {
		switch c := text[i]; {
		case c == '"':
			n := 1
			for text[i+n] != '"' {
				if text[i+n] == '\\' {
					n++
				}
				n++
			}
			out.Write(text[i : i+n+1])
			i += n + 1
		case c == '-' || c >= '0' && c <= '9':
			n := 1
			for i+n < len(text) && bytes.IndexByte([]byte("0123456789+-.eE"), text[i+n]) >= 0 {
				n++
			}
			out.WriteString(rounded(string(text[i : i+n])))
			i += n
		default:
			out.WriteByte(c)
			i++
		}
	}
	return out.Bytes()
}

// rounded is a number's text with its value rounded, itself where that is not needed.
func rounded(text string) string {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.Abs(v) > 1e6 {
		return text
	}
	r := math.Round(v/jsonStep) / math.Round(1/jsonStep)
	if r == v {
		return text
	}
	return strconv.FormatFloat(r+0, 'f', -1, 64) // + 0 turns -0 into 0
}
