"""Sweep a mill along the moves of an interpreter and hold the sweep against the
WALL and DRILL layers of a drawing, with GEOS.

stdin: JSON {"moves": [{"kind", "from", "to", "centre", "turns", "rpm"}...],
"mill", "top", "thick", "skin", "dxf", "limit", "width", "height"}, lengths in mm, kind 0
rapid, 1 line, 2 arc in XY; without "dxf" the part is {"wall": [[[x, y, bulge]...]...],
"drill": [[x, y, radius]...]}. stdout: JSON with gouge, leftover, tabs [{"length",
"seat"}], deepest, low_rapid, outside, off, through, loose: half the width of the widest
piece of the sheet's underside that hangs together with neither the part nor the rim.

What lies on the drawing's layer POCKET is cleared to a floor at its elevation: a move
is held against the part as it stands above the floor that it goes down to, and what
stays on a floor is leftover, as wide as its widest place.

Each move is swept by itself, a line as a capsule and an arc as an annular sector
with its end discs; whole paths are never buffered, because GEOS simplifies its
input. Chords lie inside their arcs by at most CHORD.
"""
import json
import math
import sys

import ezdxf
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import unary_union
from shapely.strtree import STRtree

CHORD = 1e-5


def arc_points(cx, cy, r, a0, sweep):
    n = max(2, int(math.ceil(abs(sweep) / (2 * math.acos(1 - min(1.0, CHORD / max(r, CHORD))))))) if r > CHORD else 2
    return [(cx + r * math.cos(a0 + sweep * k / n), cy + r * math.sin(a0 + sweep * k / n)) for k in range(n + 1)]


def disc(x, y, r):
    return Polygon(arc_points(x, y, r, 0, 2 * math.pi)[:-1])


def capsule(a, b, r):
    if math.dist(a, b) < 1e-12:
        return disc(a[0], a[1], r)
    t = math.atan2(b[1] - a[1], b[0] - a[0])
    return Polygon(arc_points(b[0], b[1], r, t - math.pi / 2, math.pi) + arc_points(a[0], a[1], r, t + math.pi / 2, math.pi))


def sector(a, b, c, turns, r):
    rad = (math.dist(a, c) + math.dist(b, c)) / 2
    a0 = math.atan2(a[1] - c[1], a[0] - c[0])
    a1 = math.atan2(b[1] - c[1], b[0] - c[0])
    sweep = a1 - a0
    if turns > 0 and sweep <= 1e-12:
        sweep += 2 * math.pi
    if turns < 0 and sweep >= -1e-12:
        sweep -= 2 * math.pi
    shapes = [disc(a[0], a[1], r), disc(b[0], b[1], r)]
    # In parts of at most a third of a turn, so that none meets itself.
    n = max(1, int(math.ceil(abs(sweep) / 2)))
    for k in range(n):
        s0, s1 = a0 + sweep * k / n, sweep / n
        outer = arc_points(c[0], c[1], rad + r, s0, s1)
        if rad > r + CHORD:
            shapes.append(Polygon(outer + arc_points(c[0], c[1], rad - r, s0, s1)[::-1]))
        else:
            shapes.append(Polygon(outer + [tuple(c)]).buffer(0))
    return unary_union(shapes)


def bulge_points(points, closed):
    out = []
    n = len(points)
    for i in range(n if closed else n - 1):
        x0, y0, b = points[i]
        x1, y1, _ = points[(i + 1) % n]
        if abs(b) < 1e-12:
            out.append((x0, y0))
            continue
        k = (1 - b * b) / (4 * b)
        cx, cy = (x0 + x1) / 2 - k * (y1 - y0), (y0 + y1) / 2 + k * (x1 - x0)
        out.extend(arc_points(cx, cy, math.hypot(x0 - cx, y0 - cy), math.atan2(y0 - cy, x0 - cx), 4 * math.atan(b))[:-1])
    if not closed:
        out.append(points[-1][:2])
    return out


def dense(ring, step):
    """Points along a ring, at most step apart."""
    for a, b in zip(ring, ring[1:] + ring[:1]):
        n = max(1, int(math.ceil(math.dist(a, b) / step)))
        for k in range(n):
            yield (a[0] + (b[0] - a[0]) * k / n, a[1] + (b[1] - a[1]) * k / n)


def drawn(path):
    """Walls, seats and bores of a drawing."""
    msp = ezdxf.readfile(path).modelspace()
    rings, seats = [], []
    for e in msp.query("LWPOLYLINE"):
        pts = [(p[0], p[1], p[2]) for p in e.get_points("xyb")]
        if e.dxf.layer == "WALL":
            rings.append(bulge_points(pts, True))
        elif e.dxf.layer == "SEAT":
            seats.append(LineString(bulge_points(pts, False)))
    for e in msp.query("LINE"):
        if e.dxf.layer == "SEAT":
            seats.append(LineString([e.dxf.start.vec2, e.dxf.end.vec2]))
    bores = [(e.dxf.center.x, e.dxf.center.y, e.dxf.radius) for e in msp.query("CIRCLE") if e.dxf.layer == "DRILL"]
    return rings, seats, bores


def pockets(path):
    """Ground and elevation of what lies on the layer POCKET, by elevation."""
    by = {}
    for e in ezdxf.readfile(path).modelspace().query("LWPOLYLINE"):
        if e.dxf.layer == "POCKET":
            by.setdefault(round(e.dxf.elevation, 6), []).append(Polygon(bulge_points([(p[0], p[1], p[2]) for p in e.get_points("xyb")], True)))
    out = []
    for z, polys in by.items():
        ground = Polygon()
        for p in sorted(polys, key=lambda p: -p.area):
            ground = ground.difference(p) if ground.contains(p.representative_point()) else ground.union(p)
        out.append((z, ground))
    return out


def thickest(shape):
    """Half the width of the widest place of a shape."""
    if shape.is_empty or shape.area == 0:
        return 0.0
    lo, hi = 0.0, 50.0
    while hi - lo > 1e-6:
        m = (lo + hi) / 2
        if shape.buffer(-m).is_empty:
            hi = m
        else:
            lo = m
    return hi


SLACK = 3e-4  # of a floor's height: words have four decimals


def main():
    q = json.load(sys.stdin)
    r, top, bottom = q["mill"] / 2, q["top"], q["top"] - q["thick"]
    if "dxf" in q:
        rings, seats, bores = drawn(q["dxf"])
    else:
        rings, seats, bores = [bulge_points(w, True) for w in q["wall"]], [], q["drill"]
    polys = sorted((Polygon(x) for x in rings), key=lambda p: -p.area)
    part = polys[0]
    for p in polys[1:]:
        part = part.difference(p) if part.contains(p.representative_point()) else part.union(p)
    for x, y, br in bores:
        part = part.difference(disc(x, y, br))

    floors = [(top + z, ground) for z, ground in (pockets(q["dxf"]) if "dxf" in q else [])]
    above = {}  # what stands above each floor, by how many floors reach as deep

    def standing(z):
        """The part as a mill meets it whose tip is at z."""
        gone = tuple(i for i, (f, _) in enumerate(floors) if f <= z + SLACK)
        if gone not in above:
            left = part
            for i in gone:
                left = left.difference(floors[i][1])
            above[gone] = left
        return above[gone]

    cut, through, on_floor = [], [], [[] for _ in floors]
    deepest, low_rapid, off, outside = top, math.inf, 0, 0.0
    for m in q["moves"]:
        a, b = m["from"], m["to"]
        if m["kind"] == 0:
            if math.dist(a[:2], b[:2]) > 1e-6:
                low_rapid = min(low_rapid, a[2], b[2])
            continue
        if min(a[2], b[2]) >= top - 1e-6:
            continue
        deepest = min(deepest, a[2], b[2])
        off += m["rpm"] <= 0
        s = sector(a[:2], b[:2], m["centre"], m["turns"], r) if m["kind"] == 2 else capsule(a[:2], b[:2], r)
        x0, y0, x1, y1 = s.bounds
        outside = max(outside, -x0, -y0, x1 - q["width"], y1 - q["height"])
        cut.append((s, min(a[2], b[2])))
        for i, (f, _) in enumerate(floors):
            if max(a[2], b[2]) <= f + SLACK:
                on_floor[i].append(s)
        if max(a[2], b[2]) <= bottom + q["skin"] + 1e-3:
            through.append(s)

    gouge = -math.inf
    for s, z in cut:
        left = standing(z)
        hit = s.intersection(left)
        if hit.is_empty:
            continue
        for g in getattr(hit, "geoms", [hit]):
            if g.geom_type == "Polygon":
                gouge = max(gouge, max(left.boundary.distance(Point(p)) for p in g.exterior.coords))
    # Points of the wall that no move through the sheet reaches.
    tree = STRtree(through)
    leftover, tabs = 0.0, []
    for (_, ground), done in zip(floors, on_floor):
        leftover = max(leftover, 2 * thickest(ground.intersection(part).difference(unary_union(done))))
    contours = [(ring, True) for ring in rings] + [(arc_points(x, y, br, 0, 2 * math.pi)[:-1], False) for x, y, br in bores]
    for ring, may_hold in contours:
        pts = list(dense(ring, 0.05))
        far = []
        for p in pts:
            pt = Point(p)
            near = tree.query(LineString([(p[0] - 1, p[1] - 1), (p[0] + 1, p[1] + 1)]))  # by its box
            far.append(min((s.distance(pt) for s in near), default=9.0))
        start = next((i for i, d in enumerate(far) if d <= q["limit"]), None)
        if start is None:
            leftover = max(far)
            continue
        order = list(range(start, len(pts))) + list(range(start))
        run = []
        for i in order + [order[0]]:
            if far[i] > q["limit"]:
                run.append(i)
                continue
            leftover = max(leftover, far[i])
            if run:
                worst = max(far[k] for k in run)
                if worst >= 0.5 and may_hold:
                    length = sum(math.dist(pts[k], pts[(k + 1) % len(pts)]) for k in run)
                    stretch = LineString([pts[k] for k in run] + [pts[(run[-1] + 1) % len(pts)]])
                    tabs.append({"length": length, "seat": min((stretch.distance(s) for s in seats), default=99.0)})
                else:
                    leftover = max(leftover, worst)
            run = []
    loose = 0.0
    if through and q["skin"] == 0:
        left = Polygon([(0, 0), (q["width"], 0), (q["width"], q["height"]), (0, q["height"])]).difference(unary_union([s.simplify(0.005) for s in through]))
        for g in getattr(left, "geoms", [left]):
            x0, y0, x1, y1 = g.bounds
            if min(x0, y0, q["width"] - x1, q["height"] - y1) > 0 and not g.buffer(-0.01).intersects(part):
                loose = max(loose, thickest(g))
    json.dump({
        "loose": loose, "gouge": max(gouge, 0.0), "leftover": leftover, "tabs": tabs, "deepest": deepest,
        "low_rapid": None if math.isinf(low_rapid) else low_rapid, "outside": outside, "off": off,
        "through": len(through), "floors": len(floors), "outers": sum(1 for p in polys if not any(o is not p and o.contains(p) for o in polys)),
    }, sys.stdout)


main()
