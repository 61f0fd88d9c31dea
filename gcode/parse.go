package gcode

import (
	"bytes"
	"fmt"
	"math"
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
	if p.ended && len(p.prog.Blocks) > 0 {
		return
	}
	p.line = max(p.line, 1)
	p.lineOff = len(p.text)
	if n := len(p.text); n > 0 && p.text[n-1] == '\n' {
		p.lineOff = bytes.LastIndexByte(p.text[:n-1], '\n') + 1
	}
	const nothing = "there is no program here; want blocks and M2 or M30 at the end"
	switch {
	case p.ended:
		p.add(p.lineOff, NoEnd, nothing)
	case p.percent:
		p.add(p.lineOff, PercentOpen, `the program began with "%" and ends without a second one or M2 or M30`)
	case !p.started:
		p.add(p.lineOff, NoEnd, nothing)
	default:
		p.add(p.lineOff, NoEnd, "the program ends without M2 or M30")
	}
}
