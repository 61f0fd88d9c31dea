"""Write a profile as drawings with ezdxf and svgwrite.

Standard input is JSON: points [[x, y, bulge], ...] of an open path, arguments are a
folder and a seed. Files: r12.dxf and r2000.dxf as one polyline; pieces.dxf as LINE
and ARC entities, shuffled and some turned round; mirrored.dxf with the axis at the
right; path.svg in mm with a viewBox; moved.svg under nested transforms, in inches.
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


def polyline(version, name, pts):
    doc = ezdxf.new(version)
    doc.units = 4
    space = doc.modelspace()
    if version == "R12":
        space.add_polyline2d(pts, format="xyb")
    else:
        space.add_lwpolyline(pts, format="xyb")
    doc.saveas(f"{folder}/{name}.dxf")


polyline("R12", "r12", points)
polyline("R2000", "r2000", points)
polyline("R2000", "mirrored", [(-x, y, -b) for x, y, b in reversed([
    (x, y, -(points[i - 1][2]) if i else 0) for i, (x, y, _) in enumerate(points)])])

doc = ezdxf.new("R2000")
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
    centre, start, end, radius = ezdxf.math.bulge_to_arc((x0, y0), (x1, y1), b)
    space.add_arc(centre, radius, math.degrees(start), math.degrees(end))
doc.saveas(f"{folder}/pieces.dxf")


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
