package gcode

import (
	"bytes"
	"fmt"
	"math/bits"
)

// add records a finding at the byte offset at, which lies in the current block.
func (m *machine) add(at int, code, text string) {
	if m.b.Bad {
		switch code {
		case MissingWord, NoMotion, UnusedWord, ArcNoOffset, ArcNoAxis, InverseFeed:
			return // for want of the word that could not be read
		}
	}
	m.addLine(at, int(m.b.Off), int(m.b.Line), code, text)
}

func (m *machine) addLine(at, lineOff, line int, code, text string) {
	f := Finding{m.p.Name, line, at - lineOff + 1, code, text}
	switch {
	case len(m.found) < mostFindings:
		m.found = append(m.found, f)
	case !m.full:
		m.full = true
		f.Code, f.Text = TooMany, fmt.Sprintf("more than %d findings; the rest is not listed", mostFindings)
		m.found = append(m.found, f)
	}
}

// letterOf is the letter of a mask's lowest bit.
func letterOf(bit uint32) byte { return 'A' + byte(bits.TrailingZeros32(bit)) }

// wordAt is the offset of the block's first word with one of the letters.
func (m *machine) wordAt(letters uint32) int {
	for _, w := range m.p.Words[m.b.First:m.b.End] {
		if letters>>(w.Letter-'A')&1 != 0 && w.Letter != 'G' && w.Letter != 'M' {
			return int(w.Off)
		}
	}
	return m.firstWord()
}

// codeAt is the offset of the block's G word with the code.
func (m *machine) codeAt(code uint16) int {
	for _, w := range m.p.Words[m.b.First:m.b.End] {
		if w.Letter == 'G' && w.code == code {
			return int(w.Off)
		}
	}
	return m.firstWord()
}

// motionAt is the offset of the motion code, or of the block's first word.
func (m *machine) motionAt() int { return m.codeAt(m.motion) }

func (m *machine) firstWord() int {
	for _, w := range m.p.Words[m.b.First:m.b.End] {
		if w.Letter != 'N' {
			return int(w.Off)
		}
	}
	return int(m.b.Off)
}

// unknown tells of a code that the dialect has not.
func (m *machine) unknown(w *Word) {
	if w.code == noCode {
		return // told by Parse
	}
	if w.Letter == 'G' {
		m.strange = true
	} else {
		m.strangeM = true
	}
	m.add(int(w.Off), DialectCode, fmt.Sprintf("%s is not in dialect %s", codeName(*w), m.d.Name))
}

// unused tells of words that no code of the block uses.
func (m *machine) unused(left uint32) {
	if m.strange || m.strangeM {
		return // they may be the strange code's
	}
	for ; left != 0; left &= left - 1 {
		bit := left & -left
		m.add(m.wordAt(bit), UnusedWord, fmt.Sprintf("%c is used by no code on the line", letterOf(bit)))
	}
}

// digits judges the length of the block's numbers.
func (m *machine) digits(words []Word) {
	for k := range words {
		end := int(m.b.Off) + len(m.p.Text) // of the word
		end = min(end, len(m.p.Text))
		if k+1 < len(words) {
			end = int(words[k+1].Off)
		}
		n := 0
		for _, c := range m.p.Text[words[k].Off+1 : end] {
			switch class[c] {
			case cDigit:
				n++
				continue
			case cPoint, cSign, cBlank:
				continue
			}
			break
		}
		if n > m.d.Digits {
			m.add(int(words[k].Off), DialectDigits, fmt.Sprintf("%c has a number of %d digits; want at most %d in dialect %s", words[k].Letter, n, m.d.Digits, m.d.Name))
		}
	}
}

// dialectText judges what the dialect says of the text itself: long lines,
// percent lines, semicolons and bytes that act at once.
func (m *machine) dialectText() {
	d, p := m.d, m.p
	if !d.Percent {
		for _, k := range p.percents {
			m.addLine(int(k.off), int(k.lineOff), int(k.line), DialectPercent, fmt.Sprintf(`"%%" is not in dialect %s`, d.Name))
		}
	}
	if !d.Semicolon {
		for _, k := range p.semicolons {
			m.addLine(int(k.off), int(k.lineOff), int(k.line), DialectSemicolon, fmt.Sprintf(`a comment after ";" is not in dialect %s; want "( )"`, d.Name))
		}
	}
	if d.LineMax >= 256 && !d.RealTime {
		return
	}
	for off, line := 0, 1; off < len(p.Text); line++ {
		end := bytes.IndexByte(p.Text[off:], '\n')
		next := off + end + 1
		if end < 0 {
			next, end = len(p.Text), len(p.Text)-off
		}
		m.dialectLine(p.Text[off:off+end], off, line)
		off = next
	}
}

// dialectLine judges one line by the dialect's own limits.
func (m *machine) dialectLine(text []byte, off, line int) {
	d := m.d
	n, comment := 0, false
	for i, c := range text {
		if d.RealTime && (c == '?' || c == '!' || c == '~') {
			m.addLine(off+i, off, line, DialectRealTime, fmt.Sprintf("%q: the controller acts on it at once, also within a comment", c))
		}
		switch {
		case !d.Counted:
			n++
		case c == '(':
			comment = true
		case c == ')' && comment:
			comment = false
		case c == ';' && !comment:
			if !d.RealTime {
				return
			}
			comment = true
		case !comment && class[c] != cBlank && c != '\r':
			n++
		}
		if n == d.LineMax+1 {
			m.addLine(off+i, off, line, DialectLine, fmt.Sprintf("more than %d characters on the line for dialect %s", d.LineMax, d.Name))
			n++
		}
	}
}
