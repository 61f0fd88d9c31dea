package gcode

import "fmt"

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
