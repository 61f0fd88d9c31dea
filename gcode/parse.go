package gcode

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
)

// mostFindings is where the list of one reading ends: a file that is no program
// at all would fill the screen.
const mostFindings = 1000

// Parse splits an RS-274 text into blocks of words. It judges what holds in every
// dialect: characters, comments, numbers, the order on a line, repeated letters,
// the modal groups, percent lines and the program's end. Every fault is a
// Finding; there is no error and no input makes it panic.
//
// A faulty word is left out and its block marked Bad; what else is on the line is
// kept. Reading ends after M2 or M30 and after the second percent line, as in
// N 3.1: what follows is no program. A line with the block-delete slash is read
// like the others, because the operator may have that switch off.
func Parse(name string, text []byte) (*Program, []Finding) {
	p := &parser{prog: &Program{Name: name, Text: text}, text: text}
	if uint64(len(text)) > math.MaxUint32 {
		p.add(0, LineLong, fmt.Sprintf("the text has %d bytes; want less than 4 GiB", len(text)))
		return p.prog, p.found
	}
	lines := bytes.Count(text, []byte{'\n'}) + 1
	p.prog.Blocks = make([]Block, 0, lines)
	p.prog.Words = make([]Word, 0, min(len(text)/2+1, len(text)/5+lines))
	for p.pos < len(text) && !p.ended {
		p.line++
		p.lineOff = p.pos
		p.oneLine()
	}
	p.checkEnd()
	return p.prog, p.found
}

type parser struct {
	prog    *Program
	text    []byte
	pos     int
	lineOff int
	line    int
	found   []Finding
	full    bool

	started bool // a line that is not blank has been seen
	percent bool // it was a percent line
	ended   bool // M2, M30 or the second percent line
	bad     bool // this line has a fault
}

// add records a finding at the byte offset at.
func (p *parser) add(at int, code, text string) {
	p.bad = true
	if len(p.found) < mostFindings {
		p.found = append(p.found, Finding{p.prog.Name, p.line, at - p.lineOff + 1, code, text})
	} else if !p.full {
		p.full = true
		p.found = append(p.found, Finding{p.prog.Name, p.line, at - p.lineOff + 1, TooMany,
			fmt.Sprintf("more than %d findings; the rest is not listed", mostFindings)})
	}
}

// oneLine reads the line at pos up to and with its line feed.
func (p *parser) oneLine() {
	text := p.text
	words := p.prog.Words
	first := len(words)
	block := Block{First: uint32(first), Off: uint32(p.lineOff), Line: uint32(p.line)}
	p.bad = false
	blank := true // nothing but blanks so far
	seen := uint32(0)
	groups, manyM := uint32(0), 0
	i := p.pos
line:
	for i < len(text) {
		c := text[i]
		switch class[c] {
		case cLetter:
			blank = false
			l := c &^ 0x20
			k := l - 'A'
			// The common number: sign, digits, one point, and then something
			// that cannot belong to it.
			j := i + 1
			neg := false
			if j < len(text) && (text[j] == '-' || text[j] == '+') {
				neg = text[j] == '-'
				j++
			}
			m, s := uint64(0), j
			for j < len(text) && text[j]-'0' <= 9 {
				m = m*10 + uint64(text[j]-'0')
				j++
			}
			n, frac := j-s, 0
			if j < len(text) && text[j] == '.' {
				s = j + 1
				for j = s; j < len(text) && text[j]-'0' <= 9; j++ {
					m = m*10 + uint64(text[j]-'0')
				}
				frac = j - s
				n += frac
			}
			plain := n-1 < exactDigits // 0 digits wrap round
			if n == 0 {
				plain = false
			}
			for j < len(text) && (text[j] == ' ' || text[j] == '\t') {
				j++
			}
			if j < len(text) {
				switch class[text[j]] {
				case cDigit, cPoint, cSign:
					plain = false
				}
			}
			var v float64
			if plain {
				v = float64(m)
				if frac > 0 {
					v /= powers[frac]
				}
				if neg {
					v = -v
				}
			} else {
				var ok bool
				v, j, ok = p.oddNumber(i)
				if !ok {
					i = j
					continue
				}
			}
			if l == 'O' {
				p.add(i, Expression, "O words, subroutines and loops, are not understood")
				for j < len(text) && text[j] != '\n' {
					j++
				}
				i = j
				continue
			}
			if wordLetters>>k&1 == 0 {
				p.add(i, BadLetter, fmt.Sprintf("%c is no word of RS-274", c))
				i = j
				continue
			}
			w := Word{Value: v, Off: uint32(i), Letter: l}
			switch l {
			case 'G', 'M':
				w.code = codeOf(l, v)
				bit := uint32(0)
				if w.code < uint16(len(groupOf)) {
					if l == 'G' {
						bit = 1 << (groupOf[w.code] & 31) &^ 1
					} else {
						bit = 1 << 16 << (groupOfM[w.code] & 15) &^ (1 << 16) // apart from those of G
						manyM++
					}
				} else if l == 'M' {
					manyM++
				}
				if w.code == noCode {
					p.add(i, BadCode, fmt.Sprintf("%c%s is no code; want %s", l, short(v), map[byte]string{'G': "at most one decimal, 0 to 999.9", 'M': "a whole number, 0 to 999"}[l]))
				} else if groups&bit != 0 {
					p.add(i, GroupConflict, conflict(text, words[first:], w, bit))
					i = j
					continue
				}
				groups |= bit
				if manyM == 5 && l == 'M' {
					p.add(i, ManyM, "a fifth M word; want at most four on a line")
				}
				if l == 'M' && (w.code == 20 || w.code == 300) {
					p.ended = true
				}
			default:
				if seen>>k&1 != 0 {
					p.add(i, Repeated, fmt.Sprintf("a second %c on the line; want one", l))
					i = j
					continue
				}
				seen |= 1 << k
				if l == 'N' {
					p.checkN(i, j, v, len(words) > first)
				}
			}
			words = append(words, w)
			i = j
		case cBlank:
			i++
		case cEnd:
			break line
		case cReturn:
			if i+1 < len(text) && text[i+1] != '\n' {
				p.add(i, BadCharacter, "a carriage return within a line; want a line feed after it")
				i++ // and what follows is read as the same line
				continue
			}
			i++
			continue
		default:
			wasBlank := blank
			blank = false
			i = p.rest(i, wasBlank, &block)
		}
	}
	end := i
	if i < len(text) {
		i++ // the line feed
	}
	p.pos = i
	if n := end - p.lineOff; n > 256 {
		if text[end-1] == '\r' {
			n--
		}
		if n > 256 {
			p.add(p.lineOff+256, LineLong, fmt.Sprintf("the line has %d characters; want at most 256", n))
		}
	}
	if !blank {
		p.started = true
	}
	p.prog.Words = words
	if len(words) > first || block.Skip {
		block.End = uint32(len(words))
		block.Bad = p.bad
		p.prog.Blocks = append(p.prog.Blocks, block)
	}
}

// rest reads what is neither a word nor a blank at i and gives the offset after
// it. blank says that nothing but blanks came before on the line.
func (p *parser) rest(i int, blank bool, block *Block) int {
	text := p.text
	c := text[i]
	switch class[c] {
	case cComment:
		return p.comment(i)
	case cClose:
		p.add(i, CommentClose, `")" closes no comment`)
	case cSemicolon:
		p.prog.semicolons = append(p.prog.semicolons, mark{uint32(i), uint32(p.lineOff), uint32(p.line)})
		for i < len(text) && text[i] != '\n' {
			p.inComment(i)
			i++
		}
		return i
	case cSlash:
		if blank && !block.Skip {
			block.Skip = true
			break
		}
		p.add(i, BadSlash, `"/" within a line; want it first, for block delete, or not at all`)
	case cPercent:
		return p.percentLine(i, blank)
	case cDigit, cPoint, cSign:
		p.add(i, BadNumber, "a number without a letter before it")
		for i < len(text) {
			switch class[text[i]] {
			case cDigit, cPoint, cSign, cBlank:
				i++
				continue
			}
			break
		}
		return i
	case cFormula:
		p.add(i, Expression, fmt.Sprintf("%q: parameters and expressions are not understood", c))
		return p.skipFormula(i)
	case cBad:
		p.add(i, BadCharacter, fmt.Sprintf("the byte 0x%02X; want ASCII text", c))
		for i+1 < len(text) && class[text[i+1]] == cBad {
			i++
		}
	default:
		p.add(i, BadLetter, fmt.Sprintf("%q is no part of RS-274", c))
	}
	return i + 1
}

// comment reads "( … )" at i.
func (p *parser) comment(i int) int {
	text := p.text
	nested := false
	for j := i + 1; j < len(text); j++ {
		switch text[j] {
		case ')':
			return j + 1
		case '(':
			if !nested {
				p.add(j, CommentNested, `"(" within a comment`)
				nested = true
			}
		case '\n':
			p.add(i, CommentOpen, `the comment is not closed; want ")" on its line`)
			return j
		default:
			p.inComment(j)
		}
	}
	p.add(i, CommentOpen, `the comment is not closed; want ")" on its line`)
	return len(text)
}

// inComment looks at one byte of a comment: the first bad one of a run is told.
func (p *parser) inComment(j int) {
	c := p.text[j]
	if class[c] == cBad && class[p.text[j-1]] != cBad {
		p.add(j, BadCharacter, fmt.Sprintf("the byte 0x%02X in a comment; want ASCII text", c))
	}
	if c == '\r' && j+1 < len(p.text) && p.text[j+1] != '\n' {
		p.add(j, BadCharacter, "a carriage return within a line; want a line feed after it")
	}
}

// percentLine reads a line with "%" at i.
func (p *parser) percentLine(i int, blank bool) int {
	text := p.text
	j := i + 1
	for j < len(text) && (class[text[j]] == cBlank || text[j] == '\r' && (j+1 == len(text) || text[j+1] == '\n')) {
		j++
	}
	alone := blank && (j == len(text) || text[j] == '\n')
	switch {
	case alone && !p.started:
		p.percent = true
	case alone && p.percent:
		p.ended = true
	case alone:
		p.add(i, PercentPlace, `"%" but the program did not begin with one`)
		return j
	default:
		p.add(i, PercentPlace, `"%" within a line; want it alone on the first and the last line`)
		return i + 1
	}
	p.prog.percents = append(p.prog.percents, mark{uint32(i), uint32(p.lineOff), uint32(p.line)})
	return j
}

// skipFormula steps over a bracketed expression or a parameter at i, so that one
// fault is told and not one for each of its characters.
func (p *parser) skipFormula(i int) int {
	text := p.text
	depth := 0
	for ; i < len(text); i++ {
		c := text[i]
		switch {
		case c == '\n' || c == '(' || c == ';':
			return i
		case c == '[':
			depth++
		case c == ']':
			if depth--; depth <= 0 {
				return i + 1
			}
		case depth > 0:
		case class[c] == cLetter:
			return i
		}
	}
	return i
}

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

// checkN judges the line number whose word is text[i:j].
func (p *parser) checkN(i, j int, v float64, late bool) {
	digits := 0
	for _, c := range p.text[i+1 : j] {
		switch class[c] {
		case cDigit:
			digits++
		case cBlank:
		default:
			p.add(i, LineNumber, "a line number with a sign or a point; want digits")
			return
		}
	}
	switch {
	case late:
		p.add(i, LineNumber, "a line number behind other words; want it first")
	case digits > 5 || v > 99999:
		p.add(i, LineNumber, fmt.Sprintf("line number %s; want at most five digits", short(v)))
	}
}

// checkEnd judges how the program ends.
func (p *parser) checkEnd() {
	if p.ended {
		return
	}
	p.line = max(p.line, 1)
	p.lineOff = len(p.text)
	if n := len(p.text); n > 0 && p.text[n-1] == '\n' {
		p.lineOff = bytes.LastIndexByte(p.text[:n-1], '\n') + 1
	}
	switch {
	case p.percent:
		p.add(p.lineOff, PercentOpen, `the program began with "%" and ends without a second one or M2 or M30`)
	case !p.started:
		p.add(p.lineOff, NoEnd, "there is no program here; want blocks and M2 or M30 at the end")
	default:
		p.add(p.lineOff, NoEnd, "the program ends without M2 or M30")
	}
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
