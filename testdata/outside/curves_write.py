"""Write random SPLINE and ELLIPSE entities with ezdxf, and points on them as ezdxf
evaluates them.

Arguments: the file to write and a seed. Standard output is JSON: for each entity, in
the order of the file, its layer and its points [[x, y], ...].
"""
import json
import math
import random
import sys

import ezdxf
from ezdxf.math import BSpline

name, seed = sys.argv[1], int(sys.argv[2])
random.seed(seed)
doc = ezdxf.new("R2000")
doc.units = 4
space = doc.modelspace()
out = []
for k in range(24):
    layer = f"C{k}"
    attributes = {"layer": layer}
    kind = k % 6
    if kind < 3:
        degree = random.choice([1, 2, 3, 3, 4, 5])
        n = random.randint(degree + 1, degree + 7)
        points = [(random.uniform(-50, 50), random.uniform(-50, 50)) for _ in range(n)]
        weights = [random.uniform(0.3, 4) for _ in range(n)] if kind == 1 else None
        knots = None
        if kind == 2:  # not clamped, of uneven steps
            t, knots = 0.0, []
            for i in range(n + degree + 1):
                t += random.choice([0.5, 1, 2.5])
                knots.append(t)
        curve = BSpline(points, order=degree + 1, knots=knots, weights=weights)
        low, high = curve.knots()[degree], curve.knots()[n]
        if weights:
            space.add_rational_spline(points, weights, degree, curve.knots(), dxfattribs=attributes)
        else:
            e = space.add_spline(degree=degree, dxfattribs=attributes)
            e.control_points = [(x, y, 0) for x, y in points]
            e.knots = curve.knots()
        seen = [curve.point(low + (high - low) * (i + 0.5) / 700) for i in range(700)]
    else:
        axis = (random.uniform(-30, 30), random.uniform(-30, 30))
        if kind == 5:
            attributes["extrusion"] = (0, 0, -1)
        e = space.add_ellipse((random.uniform(-40, 40), random.uniform(-40, 40)), axis, random.uniform(0.05, 1),
                              random.uniform(0, 7), random.uniform(0, 7), dxfattribs=attributes)
        params = list(e.params(400))
        seen = list(e.vertices(params))
    out.append({"Layer": layer, "Points": [[p[0], p[1]] for p in seen]})
doc.saveas(name)
json.dump(out, sys.stdout)
