package gcode

// The kinds of bytes a line is made of.
const (
	cOther  uint8 = iota // starts nothing
	cLetter              // starts a word
	cBlank               // blank or tab: no meaning outside comments (N 3.3)
	cDigit
	cPoint
	cSign
	cEnd     // line feed
	cReturn  // carriage return: right before a line feed only
	cComment // "("
	cClose   // ")"
	cSemicolon
	cSlash
	cPercent
	cFormula // "#", "[": parameters and expressions
	cBad     // control characters and bytes above 0x7F
)

// class says what each byte is.
var class = func() (t [256]uint8) {
	for c := range t {
		switch {
		case c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z':
			t[c] = cLetter
		case c >= '0' && c <= '9':
			t[c] = cDigit
		case c < ' ' || c >= 0x7F:
			t[c] = cBad
		}
	}
	for c, k := range map[byte]uint8{
		' ': cBlank, '\t': cBlank, '.': cPoint, '+': cSign, '-': cSign, '\n': cEnd, '\r': cReturn,
		'(': cComment, ')': cClose, ';': cSemicolon, '/': cSlash, '%': cPercent,
		'#': cFormula, '[': cFormula, ']': cFormula, '=': cFormula, '*': cFormula,
	} {
		t[c] = k
	}
	return t
}()

// wordLetters are the letters that start a word (N table 3).
const wordLetters = 1<<('A'-'A') | 1<<('B'-'A') | 1<<('C'-'A') | 1<<('D'-'A') | 1<<('F'-'A') | 1<<('G'-'A') |
	1<<('H'-'A') | 1<<('I'-'A') | 1<<('J'-'A') | 1<<('K'-'A') | 1<<('L'-'A') | 1<<('M'-'A') | 1<<('N'-'A') |
	1<<('P'-'A') | 1<<('Q'-'A') | 1<<('R'-'A') | 1<<('S'-'A') | 1<<('T'-'A') | 1<<('X'-'A') | 1<<('Y'-'A') | 1<<('Z'-'A')
