package joint

import (
	"fmt"
	"math"

	"blockwright/geom"
)

// longest is the greatest length in mm that a request may name.
const longest = 500

// Solve gives height and fence of a joint in closed form.
//
// Errors: *[BadRequest] for a request that makes no sense, *[OutOfRange] for a
// stock outside the geometric range. A stock outside the usable range gives a
// warning only.
func Solve(r Request) (*Setting, error) {
	if err := r.check(); err != nil {
		return nil, err
	}
	k, err := kindOf(r.Cutter.Joint)
	if err != nil {
		return nil, err
	}
	s := &Setting{Joint: k.name, Request: r, kind: k}
	if err := k.place(s); err != nil {
		return nil, err
	}
	return s, nil
}

func (r *Request) check() error {
	if r.Cutter == nil || len(r.Cutter.Profile.V) < 2 {
		return &BadRequest{"cutter", "none with a profile", "a cutter"}
	}
	if r.Web == 0 {
		r.Web = Web
	}
	for _, l := range []struct {
		key      string
		v        float64
		positive bool
	}{
		{"stock", r.Stock, true}, {"other", r.Other, false}, {"land", r.Land, false},
		{"skim", r.Skim, false}, {"web", r.Web, false},
	} {
		switch {
		case l.positive && !(l.v > 0):
			return &BadRequest{l.key, number(l.v) + " mm", "more than 0"}
		case !(l.v >= 0 && l.v <= longest):
			return &BadRequest{l.key, number(l.v) + " mm", fmt.Sprintf("0 to %d mm", longest)}
		}
	}
	return nil
}

// lockMiter sets the profile's centre on the centre line of the stock, both ways:
// H = T/2 - hc, D = rc - T/2, then X(z) + X(T - z) = T. A land l on both tips is
// set as for T - l. Of two unequal boards the thicker decides; the thinner one's
// tip then only falls short of the thicker one's face.
func lockMiter(s *Setting) error {
	r := s.Request
	other := r.Other
	if other == 0 {
		other = r.Stock
	}
	stock := math.Max(r.Stock, other)
	if r.Land >= stock {
		return &BadRequest{"land", number(r.Land) + " mm", "less than the stock, " + number(stock) + " mm"}
	}
	c := r.Cutter
	profile := merge(c.Profile)
	s.Centre, s.Residual = centreOf(profile)
	s.Range, s.Usable = limits(profile, c.Body, s.Centre, r.Web)
	for _, lim := range []*[2]float64{&s.Range, &s.Usable} {
		lim[0], lim[1] = lim[0]+r.Land, lim[1]+r.Land
	}
	for _, t := range []float64{r.Stock, other} {
		if t < s.Range[0]-geom.Tol || t > s.Range[1]+geom.Tol {
			return &OutOfRange{Cutter: c.Handle, Joint: s.Joint, Stock: t, Range: s.Range, Usable: s.Usable}
		}
	}
	half := (stock - r.Land) / 2
	h, d := half-s.Centre[1], s.Centre[0]-half
	s.Passes = []Pass{
		newPass("flat", Flat, c, r.Stock, h, d),
		newPass("upright", Upright, c, other, h, d),
	}
	s.warnOfRange()
	if other != r.Stock {
		s.warn("boards of %s and %s mm: set for the thicker; the thinner one's outside face stands %s mm back",
			number(r.Stock), number(other), number(math.Abs(other-r.Stock)))
	}
	return nil
}

func (s *Setting) warn(format string, a ...any) {
	s.Warnings = append(s.Warnings, fmt.Sprintf(format, a...))
}
