package dxf

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// words writes groups: a code on one line, its value on the next. It keeps the
// first error.
type words struct {
	w    *bufio.Writer
	err  error
	buf  []byte // of the group at hand
	next uint64 // handle given out last
}

func newWords(w io.Writer) *words { return &words{w: bufio.NewWriter(w)} }

// text writes a group with a text value, already free of line ends.
func (w *words) text(code int, value string) {
	if w.err == nil {
		w.code(code)
		w.buf = append(append(w.buf, value...), '\n')
		_, w.err = w.w.Write(w.buf)
	}
}

// code begins a group in buf: its code, three wide.
func (w *words) code(code int) {
	w.buf = w.buf[:0]
	for least := 100; code < least && least > 1; least /= 10 {
		w.buf = append(w.buf, ' ')
	}
	w.buf = append(strconv.AppendInt(w.buf, int64(code), 10), '\n')
}

// int writes a group with a whole number.
func (w *words) int(code, value int) { w.text(code, strconv.Itoa(value)) }

// num writes a group with a length or angle, nine decimals.
func (w *words) num(code int, v float64) { w.fixed(code, v, 9) }

// fixed writes v with the given decimals. Trailing noughts stay: some readers
// tell numbers from whole numbers by them.
func (w *words) fixed(code int, v float64, decimals int) {
	if w.err == nil && (math.IsNaN(v) || math.Abs(v) > limit) {
		w.err = fmt.Errorf("dxf: group %d: %v is beyond %g mm", code, v, limit)
	}
	if w.err != nil {
		return
	}
	w.code(code)
	at := len(w.buf)
	w.buf = strconv.AppendFloat(w.buf, v, 'f', decimals, 64)
	if s := w.buf[at:]; s[0] == '-' && len(bytes.Trim(s, "-0.")) == 0 {
		w.buf = append(w.buf[:at], s[1:]...)
	}
	w.buf = append(w.buf, '\n')
	_, w.err = w.w.Write(w.buf)
}

// point writes x and y under code and code+10, and z = 0 under code+20 if solid.
func (w *words) point(code int, x, y float64, solid bool) {
	w.num(code, x)
	w.num(code+10, y)
	if solid {
		w.num(code+20, 0)
	}
}

// handle gives out a new handle.
func (w *words) handle() string {
	w.next++
	return strings.ToUpper(strconv.FormatUint(w.next, 16))
}

func (w *words) flush() error {
	if w.err == nil {
		w.err = w.w.Flush()
	}
	return w.err
}

// plain makes any text fit for one group: line ends and other control
// characters become spaces; what is not ASCII, and what readers take for the
// start of a code (backslash, caret, doubled percent), is written \U+hhhh. Text
// that grows past 240 bytes is cut, since readers stop at 255.
func plain(s string) string {
	var b strings.Builder
	percent := false
	for _, r := range s {
		as := string(r)
		switch {
		case r < ' ' || r == 0x7f:
			as = " "
		case r > 0xffff:
			as = "?" // the code has four digits
		case r > 0x7e, r == '\\', r == '^', r == '%' && percent:
			as = fmt.Sprintf("\\U+%04X", r)
		}
		percent = r == '%'
		if b.Len()+len(as) > 240 {
			break
		}
		b.WriteString(as)
	}
	return b.String()
}
