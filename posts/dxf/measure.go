package dxf

import (
	"math"

	"github.com/paulmach/orb"
)

// limit is the greatest coordinate in mm that is read or written.
const limit = 1e6

func near(a, b orb.Point, tol float64) bool { return math.Hypot(a[0]-b[0], a[1]-b[1]) <= tol }

// fullTurn tells whether the angle is one turn, either way.
func fullTurn(angle float64) bool { return math.Abs(math.Abs(angle)-2*math.Pi) < 1e-6 }

func degrees(rad float64) float64 { return rad * 180 / math.Pi }

func radians(deg float64) float64 { return deg * math.Pi / 180 }
