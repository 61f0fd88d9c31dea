"""Write a profile as drawings with ezdxf and svgwrite.

Standard input is JSON: points [[x, y, bulge], ...] of an open path, arguments are a
folder and a seed. Files: r12.dxf and r2000.dxf as one polyline; pieces.dxf as LINE
and ARC entities, shuffled and some turned round, pieces_r12.dxf the same in R12;
mirrored.dxf with the axis at the right; flipped.dxf seen from below; inches.dxf in
inches; shifted.dxf and shifted_right.dxf with the axis 37 mm and -53 mm off x = 0;
closed.dxf closed along the axis; splines.dxf with arcs as rational splines,
ellipses.dxf with arcs as round ellipses; path.svg in mm with a viewBox; moved.svg under
nested transforms, in inches; turned.svg turned by an odd angle on a page in cm.
"""
import json
import math
import random
import sys

import ezdxf
import svgwrite

points = json.load(sys.stdin)
folder, seed = sys.argv[1], int(sys.argv[2])
random.seed(seed)


def polyline(version, name, pts, units=4, close=False, **attributes):
    doc = ezdxf.new(version)
    doc.units = units
    space = doc.modelspace()
    if version == "R12":
        space.add_polyline2d(pts, format="xyb", dxfattribs=attributes)
    else:
        space.add_lwpolyline(pts, format="xyb", close=close, dxfattribs=attributes)
    doc.saveas(f"{folder}/{name}.dxf")


def reverse(pts):
    back = list(reversed(pts))
    return [(x, y, -back[i + 1][2] if i + 1 < len(back) else 0) for i, (x, y, _) in enumerate(back)]


def mirror(pts):
    return [(-x, y, -b) for x, y, b in pts]


def shift(pts, dx, dy=0):
    return [(x + dx, y + dy, b) for x, y, b in pts]


polyline("R12", "r12", points)
polyline("R2000", "r2000", points)
polyline("R2000", "mirrored", reverse(mirror(points)))
polyline("R2000", "flipped", mirror(points), extrusion=(0, 0, -1))
polyline("R2000", "inches", [(x / 25.4, y / 25.4, b) for x, y, b in points], units=1)
polyline("R12", "shifted", reverse(shift(points, 37, -211.5)))
polyline("R2000", "shifted_right", mirror(shift(points, 53, 19)))
polyline("R2000", "closed", list(points) + [(0, points[-1][1], 0), (0, points[0][1], 0)], close=True)


def pieces(version, name, arc):
    doc = ezdxf.new(version)
    doc.units = 4
    space = doc.modelspace()
    pairs = list(zip(points, points[1:]))
    random.shuffle(pairs)
    for (x0, y0, b), (x1, y1, _) in pairs:
        if b == 0:
            ends = [(x0, y0), (x1, y1)]
            if random.random() < 0.5:
                ends.reverse()
            space.add_line(*ends)
            continue
        arc(space, *ezdxf.math.bulge_to_arc((x0, y0), (x1, y1), b))
    doc.saveas(f"{folder}/{name}.dxf")


def as_arc(space, centre, start, end, radius):
    space.add_arc(centre, radius, math.degrees(start), math.degrees(end))


def as_spline(space, centre, start, end, radius):
    a, b = math.degrees(start), math.degrees(end)
    s = ezdxf.math.rational_bspline_from_arc(centre, radius, a, b)
    space.add_rational_spline(s.control_points, s.weights(), s.degree, s.knots())


def as_ellipse(space, centre, start, end, radius):
    turn = random.uniform(0, 6)
    axis = (radius * math.cos(turn), radius * math.sin(turn))
    space.add_ellipse(centre, axis, 1, start - turn, end - turn)


pieces("R2000", "pieces", as_arc)
pieces("R12", "pieces_r12", as_arc)
pieces("R2000", "splines", as_spline)
pieces("R2000", "ellipses", as_ellipse)


def data(pts):
    d = [f"M {pts[0][0]!r} {pts[0][1]!r}"]
    for (x0, y0, b), (x1, y1, _) in zip(pts, pts[1:]):
        if b == 0:
            d.append(f"L {x1!r} {y1!r}")
            continue
        chord = math.hypot(x1 - x0, y1 - y0)
        radius = chord * (1 + b * b) / (4 * abs(b))
        d.append(f"A {radius!r} {radius!r} 0 0 {1 if b > 0 else 0} {x1!r} {y1!r}")
    return " ".join(d)


# Down the page: y turns round, and with it the sense of the arcs.
down = [(x, 200 - y, -b) for x, y, b in points]
page = svgwrite.Drawing(f"{folder}/path.svg", size=("300mm", "300mm"), viewBox="0 0 300 300", profile="full", debug=False)
page.add(page.path(d=data(down), fill="none", stroke="black"))
page.save()

# Ten units to the inch, turned by a half and mirrored back.
k = 10 / 25.4
small = [(x * k, y * k, b) for x, y, b in points]
page = svgwrite.Drawing(f"{folder}/moved.svg", size=("12in", "12in"), viewBox="0 0 120 120", profile="full", debug=False)
outer = page.g(transform="translate(0 90)")
inner = page.g(transform="rotate(180) scale(-1 1)")
inner.add(page.path(d=data(small), fill="none", stroke="black"))
outer.add(inner)
page.add(outer)
page.save()

# Turned by 71.3 degrees, drawn so, and turned back by the group.
turn = math.radians(71.3)
there = [(x * math.cos(turn) - y * math.sin(turn), x * math.sin(turn) + y * math.cos(turn), b) for x, y, b in points]
page = svgwrite.Drawing(f"{folder}/turned.svg", size=("20cm", "20cm"), viewBox="0 0 100 100", profile="full", debug=False)
group = page.g(transform="scale(0.5 -0.5) rotate(-71.3)")
group.add(page.path(d=data(there), fill="none", stroke="black"))
page.add(group)
page.save()
