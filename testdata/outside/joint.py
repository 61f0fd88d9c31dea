"""Cut two boards with a cutter, lay them together, and measure the corner.

Reads a JSON list of cases on stdin and writes a list of figures. Nothing is taken
from the program but the cutter's profile, the setting and the boards' thickness;
the sections are cut by GEOS. Lengths are mm.
"""

import json
import math
import sys

from shapely.affinity import affine_transform
from shapely.errors import TopologicalError
from shapely.geometry import LineString, MultiPoint, Polygon, box
from shapely.ops import transform
from shapely.prepared import prep

FAR = 200.0  # length of the boards


def snapped(g, digits=9):
    """The shape on a grid of 1e-9 mm: edges that differ by a rounding are one, which GEOS's overlays want."""
    return transform(lambda x, y: (round(x, digits), round(y, digits)), g)


def overlay(op, a, b):
    """a.op(b), on coarser grids where GEOS finds edges that all but meet."""
    for digits in (8, 7, 6):
        try:
            return getattr(a, op)(b)
        except TopologicalError:
            a, b = snapped(a, digits).buffer(0), snapped(b, digits).buffer(0)
    return getattr(a, op)(b)


def chords(profile, step):
    """Points of a path of [r, h, bulge], arcs as short chords."""
    pts = [tuple(profile[0][:2])]
    for (x0, y0, b), (x1, y1, _) in zip(profile, profile[1:]):
        if abs(b) * math.hypot(x1 - x0, y1 - y0) > 2e-9:
            # angle 4·atan(b) about the centre, left of the chord if b > 0
            c = math.hypot(x1 - x0, y1 - y0)
            k = (1 - b * b) / (4 * b)
            cx, cy = (x0 + x1) / 2 - k * (y1 - y0), (y0 + y1) / 2 + k * (x1 - x0)
            a0, sweep = math.atan2(y0 - cy, x0 - cx), 4 * math.atan(b)
            r = c * (1 + b * b) / (4 * abs(b))
            n = max(2, int(abs(sweep) * r / step))
            for i in range(1, n):
                a = a0 + sweep * i / n
                pts.append((cx + r * math.cos(a), cy + r * math.sin(a)))
        pts.append((x1, y1))
    return pts


def cutter(pts):
    """The space that a straight pass sweeps: left of the profile."""
    p = Polygon([(-FAR, pts[0][1])] + pts + [(-FAR, pts[-1][1])])
    if not p.is_valid:
        sys.exit("the profile is no simple path: %s" % pts)
    return p


def prolonged(pts):
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = pts[0], pts[1], pts[-2], pts[-1]
    f, g = 60 / math.hypot(x1 - x0, y1 - y0), 60 / math.hypot(x3 - x2, y3 - y2)
    return [(x0 + f * (x0 - x1), y0 + f * (y0 - y1))] + pts + [(x3 + g * (x3 - x2), y3 + g * (y3 - y2))]


def gaps(line, other, wood_left):
    """Greatest distance from line to other, where other's wood is not and is."""
    far = 400
    pts = list(other.coords)
    if pts[0][1] > pts[-1][1]:
        pts.reverse()
    side = -far if wood_left else far
    # Straight up and down beyond its ends, of which a level one has no other side.
    pts = [(pts[0][0], -far)] + pts + [(pts[-1][0], far)]
    wood = prep(Polygon([(side, -far)] + pts + [(side, far)]).buffer(0))
    out = into = 0.0
    n = int(line.length / 0.02)
    for q in [line.interpolate(i / n, normalized=True) for i in range(n + 1)] + list(MultiPoint(line.coords).geoms):
        d = other.distance(q)
        if d > max(out, into) or d > min(out, into):
            if wood.contains(q):
                into = max(into, d)
            else:
                out = max(out, d)
    return out, into


def measure(case):
    h, d, t = case["height"], case["fence"], case["stock"]
    pts = [(x - d, z + h) for x, z in chords(case["profile"], 0.01)]
    swept = cutter(pts)
    flat = snapped(overlay("difference", box(0, 0, FAR, t), swept))
    upright = snapped(overlay("difference", box(0, 0, t, FAR), swept))
    a, b = case["nested"]
    turn = [-1, 0, 0, -1, a, b]
    up = snapped(affine_transform(upright, turn))
    both = overlay("union", flat, up)
    f = {
        "tip": flat.bounds[0], "face": up.bounds[0], "top": up.bounds[3],
        "overlap": overlay("intersection", flat, up).area,
    }
    # the corner as predicted against the corner as cut, but for the inside corner
    want = Polygon(case["outline"] + [(FAR, t), (FAR, 0), (a, 0), (a, b - FAR), (up.bounds[0], b - FAR)]).buffer(0)
    want = snapped(want)
    near = box(a - 1, -1, a + 1, 1).union(box(FAR - 50, -1, FAR + 50, t + 1)).union(box(-50, b - FAR - 50, 50, b - FAR + 50))
    f["differs"] = overlay("difference", overlay("symmetric_difference", want, both), near).area
    if "flush" in case:
        a, b = case["flush"]
        line = LineString(pts).intersection(box(0, -1e-9, 400, t))
        other = LineString(pts).intersection(box(-400, 0, t, 400))
        long = LineString(prolonged(pts))
        turn = [-1, 0, 0, -1, a, b]
        if line.geom_type == other.geom_type == "LineString":
            o1, i1 = gaps(line, affine_transform(long, turn), True)
            o2, i2 = gaps(affine_transform(other, turn), long, False)
            f["gap"], f["clash"] = max(o1, o2), max(i1, i2)
    return f


if __name__ == "__main__":
    json.dump([measure(c) for c in json.load(sys.stdin)], sys.stdout)
