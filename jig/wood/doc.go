// Package wood reckons how a board's size changes with its moisture.
//
// Between 6 and 14 % moisture content a board's size across the grain changes by
//
//	ΔD = D·C·(M₂ - M₁)
//
// with M in per cent and C the dimensional change coefficient of the species, in
// the radial or the tangential direction: Wood Handbook, USDA Forest Products
// Laboratory, FPL-GTR-190 (2010), chapter 13, equation 13-2. Along the grain wood
// hardly moves. A quartersawn board's thickness is tangential and its width radial;
// a flatsawn board's thickness is radial and its width tangential.
//
// Lengths are mm.
package wood

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// A Species has the two coefficients, per per cent of moisture content.
type Species struct {
	Name               string
	Radial, Tangential float64
	Memory             bool // the figures are from memory and were not read in the table
}

// Source of the table, and what is said of figures that were not read in it.
const (
	Source     = "Wood Handbook (FPL-GTR-190, 2010), table 13-5 and equation 13-2"
	FromMemory = "from memory, not read in the Wood Handbook's table 13-5"
)

// table is in the order of names.
var table = []Species{
	{"american beech", .00190, .00431, false},
	{"basswood", .00230, .00330, false},
	{"black cherry", .00126, .00248, false},
	{"black walnut", .00190, .00274, false},
	{"eastern white pine", .00071, .00212, true},
	{"paper birch", .00219, .00304, false},
	{"pecan hickory", .00169, .00315, false},
	{"ponderosa pine", .00133, .00216, true},
	{"red alder", .00151, .00256, false},
	{"red maple", .00137, .00289, false},
	{"red oak", .00158, .00369, false},
	{"sugar maple", .00165, .00353, false},
	{"sycamore", .00172, .00296, false},
	{"white ash", .00169, .00274, false},
	{"white oak", .00180, .00365, false},
	{"yellow birch", .00256, .00338, false},
	{"yellow-poplar", .00158, .00289, true},
}

// Names are the species known, in order.
func Names() []string {
	var out []string
	for _, s := range table {
		out = append(out, s.Name)
	}
	return out
}

// Find is the species of that name; case does not count.
func Find(name string) (Species, error) {
	want := strings.ToLower(strings.TrimSpace(name))
	if i := slices.IndexFunc(table, func(s Species) bool { return s.Name == want }); i >= 0 {
		return table[i], nil
	}
	return Species{}, fmt.Errorf("species %q is not in the table; it has %s", name, strings.Join(Names(), ", "))
}

// Moisture limits of the equation, per cent.
const (
	Driest  = 6.0
	Wettest = 14.0
)

// Change is by how much a size of d mm changes from moisture content m1 to m2, both
// per cent, with the coefficient c. Outside 6 to 14 % the equation does not hold:
// that is an error.
func Change(d, c, m1, m2 float64) (float64, error) {
	for _, m := range []float64{m1, m2} {
		if !(m >= Driest && m <= Wettest) {
			return 0, fmt.Errorf("moisture content %g %%; the equation holds for %g to %g %%", m, Driest, Wettest)
		}
	}
	if math.IsNaN(d) || math.IsInf(d, 0) || math.IsNaN(c) {
		return 0, fmt.Errorf("a size of %g mm is none", d)
	}
	return d * c * (m2 - m1), nil
}

// Thickness is by how much a board of thickness t changes from m1 to m2: flatsawn,
// whose thickness is radial, and quartersawn, whose thickness is tangential.
func (s Species) Thickness(t, m1, m2 float64) (flatsawn, quartersawn float64, err error) {
	if flatsawn, err = Change(t, s.Radial, m1, m2); err != nil {
		return 0, 0, err
	}
	quartersawn, err = Change(t, s.Tangential, m1, m2)
	return flatsawn, quartersawn, err
}
