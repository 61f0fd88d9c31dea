package main

import (
	"errors"
	"strings"

	"github.com/paulmach/orb"

	"blockwright/jig/joint"
)

// A landingFlag is a point of a profile and where it is wanted, r,h=x,z. What bare
// numbers mean is known only once the shop has been read.
type landingFlag struct {
	text   string
	places [4]lengthFlag // r, h, x, z
}

func (l *landingFlag) String() string { return l.text }
func (l *landingFlag) Type() string   { return "place" }

func (l *landingFlag) Set(s string) error {
	form := errors.New("want the profile's radius and height and where they land, r,h=x,z as in 6.35,6=0,6")
	from, to, two := strings.Cut(s, "=")
	words := append(strings.Split(from, ","), strings.Split(to, ",")...)
	if !two || len(words) != 4 || strings.Count(from, ",") != 1 {
		return form
	}
	var places [4]lengthFlag
	for i, w := range words {
		if err := places[i].Set(strings.TrimSpace(w)); err != nil {
			return err
		}
	}
	l.text, l.places = s, places
	return nil
}

// landing is what the flag asks for, nil where it was not given.
func (l *landingFlag) landing(units string) *joint.Landing {
	if l.text == "" {
		return nil
	}
	var v [4]float64
	for i := range v {
		v[i] = l.places[i].mm(units)
	}
	return &joint.Landing{Profile: orb.Point{v[0], v[1]}, Table: orb.Point{v[2], v[3]}}
}

// A placeFlag is a point of the table's frame, x,z.
type placeFlag struct {
	text string
	x, z lengthFlag
}

func (p *placeFlag) String() string { return p.text }
func (p *placeFlag) Type() string   { return "place" }

func (p *placeFlag) Set(s string) error {
	x, z, two := strings.Cut(s, ",")
	if !two || strings.Contains(z, ",") {
		return errors.New("want a distance and a height, x,z as in 8.2,7.9")
	}
	var q placeFlag
	for _, l := range []struct {
		flag *lengthFlag
		word string
	}{{&q.x, x}, {&q.z, z}} {
		if err := l.flag.Set(strings.TrimSpace(l.word)); err != nil {
			return err
		}
	}
	q.text = s
	*p = q
	return nil
}

// point is the place in mm, bare numbers being in units.
func (p *placeFlag) point(units string) orb.Point {
	return orb.Point{p.x.mm(units), p.z.mm(units)}
}
