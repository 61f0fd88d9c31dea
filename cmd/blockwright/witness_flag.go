package main

import "fmt"

// A witnessFlag takes the two sizes of a witness: across X, then across Y.
type witnessFlag struct {
	text string
	size [2]lengthFlag
}

func (w *witnessFlag) String() string { return w.text }
func (w *witnessFlag) Type() string   { return "x,y" }
func (w *witnessFlag) set() bool      { return w.text != "" }

func (w *witnessFlag) Set(s string) error {
	items, err := splitWords(s)
	if err != nil {
		return err
	}
	if len(items) != 2 {
		return fmt.Errorf("%d sizes; want two, across X and across Y: 40.21mm,60.19mm", len(items))
	}
	for i, item := range items {
		w.size[i].sign = positive
		if err := w.size[i].Set(item); err != nil {
			return err
		}
	}
	w.text = s
	return nil
}

// mm are the sizes in mm, bare numbers being in units.
func (w *witnessFlag) mm(units string) (x, y float64) {
	return w.size[0].mm(units), w.size[1].mm(units)
}
