package gcode

import (
	"fmt"
)

// grid is the coordinate of an axis in steps of the last decimal.
func (p *printer) grid(axis int, mm float64) int64 {
	if !within(mm) {
		p.fail("%c is %v; want at most %d mm", 'X'+axis, mm, MostLength)
		return 0
	}
	n, _ := steps(mm/p.unit, p.decimals)
	return n
}

// mm is a grid value as a length.
func (p *printer) mm(n int64) float64 { return float64(n) / powers[p.decimals] * p.unit }

// axis adds the word of an axis if the coordinate changes.
func (p *printer) axis(axis int, mm float64) {
	n := p.grid(axis, mm)
	if p.known[axis] && n == p.at[axis] {
		return
	}
	p.at[axis], p.known[axis] = n, true
	p.word('X'+byte(axis), n, p.decimals)
}

// feedWord adds F if the feed changes: 0.1 mm/min or 0.001 in/min are enough.
func (p *printer) feedWord(feed float64) {
	places := 1
	if p.unit != 1 {
		places = 3
	}
	n, ok := steps(feed/p.unit, places)
	if !ok {
		p.fail("feed is %v", feed)
		return
	}
	n = max(n, 1)
	if n != p.feed {
		p.feed = n
		p.word('F', n, places)
	}
}

// line starts a line of words.
func (p *printer) line(word string) { p.buf = append(p.buf[:0], word...) }

// word adds a word whose number is n/10^decimals.
func (p *printer) word(letter byte, n int64, decimals int) {
	p.buf = append(p.buf, ' ', letter)
	from := len(p.buf)
	p.buf = AppendNumber(p.buf, n, decimals)
	if p.d.Digits > 0 {
		digits := 0
		for _, c := range p.buf[from:] {
			if c >= '0' && c <= '9' {
				digits++
			}
		}
		if digits > p.d.Digits {
			p.fail("%c%s has %d digits; dialect %s takes %d", letter, p.buf[from:], digits, p.d.Name, p.d.Digits)
		}
	}
}

// end writes the line.
func (p *printer) end() {
	if p.err != nil {
		return
	}
	if len(p.buf) > p.d.LineMax {
		p.fail("the line %q has %d characters; dialect %s takes %d", p.buf, len(p.buf), p.d.Name, p.d.LineMax)
		return
	}
	p.buf = append(p.buf, '\n')
	_, p.err = p.w.Write(p.buf)
}

// words writes a line of fixed words, without the codes the dialect lacks.
func (p *printer) words(line string) {
	p.buf = p.buf[:0]
	start := 0
	for i := 0; i <= len(line); i++ {
		if i < len(line) && line[i] != ' ' {
			continue
		}
		w := line[start:i]
		start = i + 1
		if (w[0] == 'G' || w[0] == 'M') && !p.d.Codes[w] {
			continue
		}
		if len(p.buf) > 0 {
			p.buf = append(p.buf, ' ')
		}
		p.buf = append(p.buf, w...)
	}
	if len(p.buf) > 0 {
		p.end()
	}
}

func (p *printer) fail(format string, args ...any) {
	if p.err == nil {
		p.err = fmt.Errorf("move %d: %s", p.number, fmt.Sprintf(format, args...))
	}
}
