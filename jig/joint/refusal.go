package joint

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Message is a sentence with lengths in it, so that it can be said in any unit.
type Message struct {
	Text    string    // with %s for each length, in order
	Lengths []float64 // mm
}

// Say is the sentence with its lengths as length writes them, unit included.
func (m Message) Say(length func(mm float64) string) string {
	words := make([]any, len(m.Lengths))
	for i, v := range m.Lengths {
		words[i] = length(v)
	}
	return fmt.Sprintf(m.Text, words...)
}

// String is the sentence in mm.
func (m Message) String() string { return m.Say(inMM) }

func inMM(v float64) string { return number(v) + " mm" }

// number is v to a thousandth, without trailing zeros.
func number(v float64) string {
	return strconv.FormatFloat(math.Round(v*1e3)/1e3, 'f', -1, 64)
}

// Saying is a sentence in which each %s stands for one of the words, in order; a
// float64 is a length in mm, everything else is printed as it is.
func Saying(text string, words ...any) Message {
	var m Message
	parts := strings.Split(text, "%s")
	for i, part := range parts {
		m.Text += strings.ReplaceAll(part, "%", "%%")
		if i == len(parts)-1 {
			break
		}
		if i >= len(words) {
			m.Text += "?"
			continue
		}
		if v, ok := words[i].(float64); ok {
			m.Text += "%s"
			m.Lengths = append(m.Lengths, v)
			continue
		}
		m.Text += strings.ReplaceAll(fmt.Sprint(words[i]), "%", "%%")
	}
	return m
}

// Refusal is the error of a wish that cannot be met, as a sentence for any unit.
type Refusal struct{ Why Message }

// Refuse is a refusal in the words of [Saying].
func Refuse(text string, words ...any) error { return &Refusal{Saying(text, words...)} }

// Message is the error as a sentence for any unit.
func (e *Refusal) Message() Message { return e.Why }

func (e *Refusal) Error() string { return e.Why.String() }

// OutOfRange is the error of a stock that a cutter cannot join, with both limits
// of the geometric range and of the usable one, mm. A range whose first limit is
// above its second is empty: the cutter joins no stock at all.
type OutOfRange struct {
	Cutter        string // its handle
	Joint         string
	Stock         float64
	Range, Usable [2]float64
}

// Message is the error as a sentence for any unit.
func (e *OutOfRange) Message() Message {
	who := plainly(fmt.Sprintf("cutter %q", e.Cutter)).Text
	if e.Range[0] > e.Range[1] {
		return Message{who + " joins no stock as " + e.Joint + ": its lock wants at least %s, its edge reaches over %s at most; the flanks on both sides of the lock belong on one line through the profile's centre",
			[]float64{e.Range[0], e.Range[1]}}
	}
	want := Between(e.Range)
	m := Message{"stock %s is outside what " + who + " can join; want " + want.Text, append([]float64{e.Stock}, want.Lengths...)}
	if e.Usable[0] < e.Usable[1] {
		better := Between(e.Usable)
		m.Text += ", better " + better.Text
		m.Lengths = append(m.Lengths, better.Lengths...)
	}
	if miss := math.Max(e.Range[0]-e.Stock, e.Stock-e.Range[1]); miss < shown {
		m.Text += fmt.Sprintf("; it misses the limit by %.1g mm", miss)
	}
	return m
}

// shown is the difference in mm from which on two lengths print apart in any unit.
const shown = 0.003

// Between is a range of stock in words: from one thickness to another, or without a
// limit that only the greatest length of a request sets.
func Between(r [2]float64) Message {
	switch none := r[0] <= 0; {
	case none && r[1] >= longest:
		return Message{Text: "any thickness"}
	case none:
		return Message{"up to %s", []float64{r[1]}}
	case r[1] >= longest:
		return Message{"%s or more", []float64{r[0]}}
	}
	return Message{"%s to %s", []float64{r[0], r[1]}}
}

func (e *OutOfRange) Error() string { return e.Message().String() }

// NoCentre is the error of a cutter whose profile no half turn carries onto
// itself, so that its two cuts do not mate.
type NoCentre struct {
	Cutter, Joint string
	Err           error
}

func (e *NoCentre) Error() string {
	return fmt.Sprintf("cutter %q makes no %s: %s", e.Cutter, e.Joint, strings.TrimPrefix(e.Err.Error(), "geom: "))
}

func (e *NoCentre) Unwrap() error { return e.Err }

// NoMate is the error of two cutters that make no set.
type NoMate struct {
	Cutter, With string // their handles
	Why          Message
}

// Message is the error as a sentence for any unit.
func (e *NoMate) Message() Message {
	return Message{plainly(fmt.Sprintf("cutters %q and %q make no set: ", e.Cutter, e.With)).Text + e.Why.Text, e.Why.Lengths}
}

func (e *NoMate) Error() string { return e.Message().String() }

// BadRequest is the error of a request that makes no sense whatever the cutter.
type BadRequest struct {
	Key  string // stock, other, land, skim, overlay, web, cutter, with, at, joint
	Have Message
	Want Message
}

// Message is the error as a sentence for any unit.
func (e *BadRequest) Message() Message {
	return Message{e.Key + ": " + e.Have.Text + "; want " + e.Want.Text,
		append(append([]float64(nil), e.Have.Lengths...), e.Want.Lengths...)}
}

func (e *BadRequest) Error() string { return e.Message().String() }

// plainly is a sentence without lengths.
func plainly(s string) Message { return Message{Text: strings.ReplaceAll(s, "%", "%%")} }

// lengthy is a sentence with lengths.
func lengthy(text string, mm ...float64) Message { return Message{text, mm} }
