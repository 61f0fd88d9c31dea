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

// wordLetters are the letters that start a word (N table 3), as bits from A on.
var wordLetters = func() (set uint32) {
	for _, c := range "ABCDFGHIJKLMNPQRSTXYZ" {
		set |= 1 << (c - 'A')
	}
	return set
}()
