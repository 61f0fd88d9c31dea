package gcode

import (
	"fmt"
	"math"
	"strconv"
)

// oddNumber reads the number of the word at i in full: blanks within it, many
// digits, faults. It gives the offset behind it.
func (p *parser) oddNumber(i int) (v float64, next int, ok bool) {
	text := p.text
	var digits [64]byte
	buf := digits[:0]
	n, points := 0, 0
	j := i + 1
	last := j
scan:
	for ; j < len(text); j++ {
		c := text[j]
		switch class[c] {
		case cBlank:
			continue
		case cSign:
			if len(buf) > 0 {
				break scan
			}
		case cPoint:
			points++
		case cDigit:
			n++
		default:
			break scan
		}
		buf = append(buf, c)
		last = j + 1
	}
	l := text[i] &^ 0x20
	switch {
	case j < len(text) && class[text[j]] == cFormula && len(buf) == 0:
		p.add(j, Expression, fmt.Sprintf("%c: parameters and expressions are not understood", l))
		return 0, p.skipFormula(j), false
	case n == 0 && j < len(text) && class[text[j]] == cLetter && len(buf) == 0:
		k := j
		for k < len(text) && class[text[k]] == cLetter {
			k++
		}
		if k < len(text) && text[k] == '[' { // a function: X sin[30]
			p.add(j, Expression, fmt.Sprintf("%c: parameters and expressions are not understood", l))
			return 0, p.skipFormula(k), false
		}
		p.add(i, BadNumber, fmt.Sprintf("%c without a number", text[i]))
		return 0, j, false
	case n == 0 || points > 1:
		p.add(i, BadNumber, fmt.Sprintf("%s is no number; want a sign, digits and at most one point", strconv.Quote(string(text[i+1:max(last, i+1)]))))
		return 0, p.skipNumber(j), false
	case j < len(text) && class[text[j]] == cSign:
		p.add(i, BadNumber, fmt.Sprintf("a sign within the number of %c", l))
		return 0, p.skipNumber(j), false
	}
	v, err := strconv.ParseFloat(string(buf), 64)
	if err != nil {
		p.add(i, BadNumber, fmt.Sprintf("the number of %c is beyond every machine", l))
		return 0, j, false
	}
	return v, j, true
}

// skipNumber steps over what is left of a faulty number.
func (p *parser) skipNumber(j int) int {
	for j < len(p.text) {
		switch class[p.text[j]] {
		case cDigit, cPoint, cSign, cBlank:
			j++
			continue
		}
		break
	}
	return j
}

// codeOf is ten times the number of a G or M word, which has to be within 0.0001
// of a whole number (M) or of a whole number of tenths (G): N 3.3.2.1.
func codeOf(letter byte, v float64) uint16 {
	t := v * 10
	n := math.Round(t)
	slack := 0.001
	if letter == 'M' {
		n = math.Round(v) * 10
	}
	if !(math.Abs(t-n) <= slack) || n < 0 || n > 9999 {
		return noCode
	}
	return uint16(n)
}

// short is a number as people write it.
func short(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
