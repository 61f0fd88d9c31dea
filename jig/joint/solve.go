package joint

import (
	"fmt"
	"math"
	"strconv"

	"blockwright/jig/cutter"
)

// longest is the greatest length in mm that a request may name.
const longest = 500

// Solve gives height and fence of a joint in closed form.
//
// Errors: *[BadRequest] for a request that makes no sense, *[OutOfRange] for a
// stock outside the geometric range, *[NoCentre] for a profile without a centre,
// *[NoMate] for two cutters that make no set. A stock outside the usable range
// gives a warning only.
func Solve(r Request) (*Setting, error) {
	if err := r.check(); err != nil {
		return nil, err
	}
	s, err := limitsOf(r)
	if err != nil {
		return nil, err
	}
	if err := s.kind.place(s); err != nil {
		return nil, err
	}
	s.warnOfTraps()
	return s, nil
}

// warnOfTraps warns of a pass whose cutter stands wholly in front of the fence
// somewhere: what is between them stays, unless it is cut away before, and a board
// that is caught there is thrown.
func (s *Setting) warnOfTraps() {
	for _, p := range s.Passes {
		stays := 0.0
		for i := range p.CutLine.Edges() {
			e := p.CutLine.Edge(i)
			for _, x := range [3]float64{e.A[0], e.LeastX()[0], e.B[0]} {
				if x > seam {
					stays = math.Max(stays, -2*p.Fence-x)
				}
			}
		}
		if stays > seam {
			s.warn(p.Name+" pass: the cutter stands wholly in front of the fence; up to %s of wood would be trapped between them unless it is cut away first, in fence stages with the widest spacer first", stays)
		}
	}
}

// Limits gives what a cutter can join without asking for a stock: a setting with
// ranges, centre and residual, but no passes. web is as in a [Request]. The errors
// are those of [Solve].
func Limits(c *cutter.Cutter, web float64) (*Setting, error) {
	r := Request{Cutter: c, Stock: 1, Web: web}
	if err := r.check(); err != nil {
		return nil, err
	}
	r.Stock = 0
	return limitsOf(r)
}

func limitsOf(r Request) (*Setting, error) {
	k, err := kindOf(r.Cutter.Joint)
	if err != nil {
		return nil, err
	}
	s := &Setting{Joint: k.name, Request: r, kind: k}
	if err := r.suits(k); err != nil {
		return nil, err
	}
	if k.fit != nil {
		if err := k.fit(s); err != nil {
			return nil, err
		}
	} else if s.Centre, s.Residual, s.noise, err = centreOf(r.Cutter.Profile.Merge(), r.Cutter.Traced); err != nil {
		return nil, &NoCentre{Cutter: r.Cutter.Handle, Joint: k.name, Err: err}
	}
	k.limits(s)
	return s, nil
}

func (r *Request) check() error {
	if r.Cutter == nil || len(r.Cutter.Profile.V) < 2 {
		return &BadRequest{"cutter", plainly("none with a profile"), plainly("a cutter")}
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
		{"skim", r.Skim, false}, {"overlay", r.Overlay, false}, {"web", r.Web, false},
	} {
		switch {
		case l.positive && !(l.v > 0):
			return &BadRequest{l.key, lengthy("%s", l.v), plainly("more than 0")}
		case !(l.v >= 0 && l.v <= longest):
			return &BadRequest{l.key, lengthy("%s", l.v), lengthy("0 to %s", longest)}
		}
	}
	return nil
}

// suits refuses a second cutter or a landing that the joint has no use for, and the
// lack of a second cutter that it needs.
func (r *Request) suits(k *kind) error {
	switch {
	case k.mates && r.With == nil:
		return &BadRequest{"with", plainly("none"), plainly("the other cutter of the set")}
	case !k.mates && r.With != nil:
		return &BadRequest{"with", plainly(strconv.Quote(r.With.Handle)), plainly("none: this joint is made with one cutter")}
	case k.mates && (r.With.Joint != k.name || len(r.With.Profile.V) < 2):
		return &BadRequest{"with", plainly(fmt.Sprintf("%q, a cutter for %s", r.With.Handle, r.With.Joint)), plainly("a cutter for " + k.name)}
	case !k.lands && r.At != nil:
		return &BadRequest{"at", lengthy("(%s, %s)", r.At.Table[0], r.At.Table[1]), plainly("none: this joint's setting follows from the stock")}
	case !k.skims && r.Skim > 0:
		return &BadRequest{"skim", lengthy("%s", r.Skim), plainly("none: the fence of this joint is not free")}
	case !k.laps && r.Overlay > 0:
		return &BadRequest{"overlay", lengthy("%s", r.Overlay), plainly("none: only a drawer lock's front stands beyond its side")}
	case r.At != nil:
		return r.At.check()
	}
	return nil
}

func (s *Setting) warn(text string, mm ...float64) {
	s.Warnings = append(s.Warnings, lengthy(text, mm...))
}
