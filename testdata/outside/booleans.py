"""Holds unions, intersections and differences against GEOS.

Reads one JSON object a line: a, b, union, intersection, difference as lists of
rings (outers counter-clockwise, holes clockwise), the exact areas, the flattening
tolerance and the length of all boundaries. Writes one line for each case that
disagrees, and the number of cases at the end.
"""
import json
import sys

from shapely.geometry import Polygon
from shapely.validation import make_valid


def area_of(rings):
    """Rings do not cross, so what an odd number of them surrounds is inside."""
    total = Polygon()
    for ring in rings:
        if len(ring) < 3:
            continue
        p = Polygon(ring)
        if not p.is_valid:
            p = make_valid(p)
        total = total.symmetric_difference(p)
    return total


n = 0
for line in sys.stdin:
    case = json.loads(line)
    n += 1
    a, b = area_of(case["a"]), area_of(case["b"])
    slack = 4 * case["tol"] * case["length"] + 1e-9
    for name, want in (
        ("union", a.union(b)),
        ("intersection", a.intersection(b)),
        ("difference", a.difference(b)),
    ):
        got = area_of(case[name])
        off = got.symmetric_difference(want).area
        if off > slack:
            # On edges that differ in the last digit GEOS may give both shapes for
            # their difference; a hair's breadth round one of them avoids that.
            off = got.difference(want.buffer(1e-7)).area + want.difference(got.buffer(1e-7)).area
        exact = abs(case["areas"][name] - want.area)
        if off > slack or exact > slack:
            print(f"{case['name']} {name}: differs from GEOS over {off:.3g} mm², area off by {exact:.3g}, allowed {slack:.3g}")
print(n)
