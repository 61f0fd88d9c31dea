"""Cut two boards, lay them together by a given motion, and measure what is between.

Reads a JSON list of cases on stdin and writes a list of figures. A case has two
boards, each with a cutter's profile, its setting, the board's thickness and whether
it stands upright; the motions that lay the second against the first; the boxes that
the closed joint fills; and whether ends bear. The sections are cut by GEOS. With
one board, it is held against the same board at another setting. Lengths are mm.
"""

import json
import sys

from joint import FAR, chords, cutter, gaps, overlay, prolonged, snapped
from shapely.affinity import affine_transform
from shapely.geometry import LineString, box
from shapely.ops import linemerge, unary_union


def table(board):
    return [(x - board["fence"], z + board["height"]) for x, z in chords(board["profile"], 0.01)]


def section(board):
    t = board["stock"]
    whole = box(0, 0, t, FAR) if board["upright"] else box(0, 0, FAR, t)
    return snapped(overlay("difference", whole, cutter(table(board))))


def rising(line):
    pts = list(line.coords)
    return pts if pts[0][1] <= pts[-1][1] else pts[::-1]


def cut(board, ends):
    """The board's surface that meets the other board's, and the same taken on."""
    t, pts = board["stock"], table(board)
    room = box(-400, 0, t, 400) if board["upright"] else box(0, -1e-9, 400, t)
    line = LineString(pts).intersection(room)
    if line.geom_type == "MultiLineString":
        line = linemerge(line)
    if line.geom_type != "LineString":
        return None, None
    if not ends:
        return line, LineString(prolonged(pts))
    at = rising(line)
    at = [(t, at[0][1])] + at if board["upright"] else at + [(0.0, at[-1][1])]
    return LineString(at), LineString(prolonged(at))


def between(first, second, motion, ends):
    a, long_a = cut(first, ends)
    b, long_b = cut(second, ends)
    if a is None or b is None:
        return None
    out1, in1 = gaps(a, affine_transform(long_b, motion), True)
    out2, in2 = gaps(affine_transform(b, motion), long_a, False)
    return [max(out1, out2), max(in1, in2)]


def measure(case):
    first, second = case["boards"]
    a, b = section(first), section(second)
    f = {}
    if not case["motions"]:  # a plain edge: what was cut too much and too little
        f["more"] = overlay("difference", b, a).area
        f["less"] = overlay("difference", a, b).area
        return f
    shape = unary_union([box(*c) for c in case["closed"]]) if case["closed"] else None
    f["joints"] = []
    for motion in case["motions"]:
        moved = affine_transform(b, motion)
        j = {"overlap": overlay("intersection", a, moved).area, "bounds": list(moved.bounds)}
        if shape is not None:
            j["void"] = overlay("difference", overlay("difference", shape, a), moved).area
        j["between"] = between(first, second, motion, case["ends"])
        f["joints"].append(j)
    return f


if __name__ == "__main__":
    json.dump([measure(c) for c in json.load(sys.stdin)], sys.stdout)
