"""Holds offsets of closed paths against GEOS.

Reads one JSON object a line: the path's edges as [ax, ay, bx, by, bulge], the
distance d, whether the wanted side is inside, the result's rings (flattened to
tol), their exact area, and the number of its loops. The points nearer than d to
an edge are a disc at either end and a rectangle or a sector of a ring between
them; whole paths are not buffered, because GEOS simplifies what it buffers.

Three things are held. The area lies between those at d + eps and d - eps. At
d - eps, where an exact fit is open by 2 eps, there are as many rings as loops.
No part of the boundary at d is farther than 0.01 mm from the result, and, unless
fits are exact, no part of the result from the boundary.

Writes one line for each case that disagrees; at the end the number of cases and
of those whose loops could not be counted, because GEOS counts otherwise at d - 3 eps.
"""
import json
import math
import sys

from shapely.geometry import LinearRing, MultiLineString, Point, Polygon
from shapely.ops import unary_union
from shapely.validation import make_valid

EPS = 4e-4
CHORD = 2e-5  # mm between an arc and its chords
FAR = 1e-2


def arc_points(c, r, a0, sweep):
    """Points on the arc about c, none farther than CHORD from it in between."""
    step = 2 * math.sqrt(2 * CHORD / max(r, 1e-3))
    n = max(2, math.ceil(abs(sweep) / step))
    return [(c[0] + r * math.cos(a0 + sweep * i / n), c[1] + r * math.sin(a0 + sweep * i / n)) for i in range(n + 1)]


def arc_of(e):
    ax, ay, bx, by, b = e
    k = (1 - b * b) / (4 * b)
    c = ((ax + bx) / 2 - k * (by - ay), (ay + by) / 2 + k * (bx - ax))
    return c, math.hypot(ax - c[0], ay - c[1]), math.atan2(ay - c[1], ax - c[0]), 4 * math.atan(b)


def swept(e, d):
    ax, ay, bx, by, b = e
    parts = [Polygon(arc_points(p, d, 0, 2 * math.pi)[:-1]) for p in ((ax, ay), (bx, by))]
    if b == 0:
        length = math.hypot(bx - ax, by - ay)
        nx, ny = (ay - by) / length * d, (bx - ax) / length * d
        parts.append(Polygon([(ax + nx, ay + ny), (bx + nx, by + ny), (bx - nx, by - ny), (ax - nx, ay - ny)]))
    else:
        c, r, a0, sweep = arc_of(e)
        outer = arc_points(c, r + d, a0, sweep)
        inner = arc_points(c, r - d, a0, sweep) if r > d else [c]
        parts.append(Polygon(outer + inner[::-1]).buffer(0))
    return parts


def area_of(rings):
    """Rings do not cross, so what an odd number of them surrounds is inside."""
    total = Polygon()
    for ring in rings:
        if len(ring) > 2:
            p = Polygon(ring)
            total = total.symmetric_difference(p if p.is_valid else make_valid(p))
    return total


def rings_of(shape):
    out = []
    for g in getattr(shape, "geoms", [shape]):
        if g.geom_type == "Polygon" and not g.is_empty:
            out += [g.exterior] + list(g.interiors)
    return out


def directed(lines, other):
    """The greatest distance of a vertex of lines from other."""
    return max((other.distance(Point(q)) for line in lines for q in line.coords), default=0)


cases = uncounted = 0
for line in sys.stdin:
    case = json.loads(line)
    cases += 1
    edges, d, say = case["edges"], case["d"], lambda what: print(f"{case['name']}: {what}")
    outline = []
    for e in edges:
        if e[4] == 0:
            outline.append((e[0], e[1]))
        else:
            outline += arc_points(*arc_of(e))[:-1]
    solid = area_of([outline])

    def at(dist):
        s = unary_union([p for e in edges for p in swept(e, dist)])
        return solid.difference(s) if case["inside"] else solid.union(s)

    small, large = sorted((at(d + EPS).area, at(d - EPS).area))
    if not small - 1e-6 <= case["area"] <= large + 1e-6:
        say(f"area {case['area']}, by GEOS from {small} to {large}")

    # A ring smaller than the error of the chords is none.
    def count(dist):
        return sum(1 for r in rings_of(at(dist)) if abs(Polygon(r).area) > 1e-8)

    n = count(d - EPS)
    if n != count(d - 3 * EPS):
        uncounted += 1
    elif n != case["loops"]:
        say(f"{case['loops']} loops, by GEOS {n}")

    want = rings_of(at(d))
    got = [LinearRing(r) if len(r) > 2 else Point(r[0]).buffer(1e-9).exterior if len(r) == 1 else
           Polygon([r[0], r[1], r[1]]).exterior for r in case["rings"]]
    if want and not got:
        say("nothing, by GEOS something")
    elif want:
        if (far := directed(want, MultiLineString(got))) > FAR:
            say(f"misses a part of GEOS's by {far}")
    if got and not case["fits"]:
        if not want:
            say("something, by GEOS nothing")
        elif (far := directed(got, MultiLineString(want))) > FAR:
            say(f"has a part {far} from GEOS's")
print(cases, uncounted)
