"""Draw a scan of a board's cut end from a profile known exactly, by means of its own:
every pixel at an edge asks its sixteen parts whether they lie in the board, the blur is a
multiplication of Fourier transforms, the grain is rings about a pith.

Usage: scan.py SEED DPI PIECES [many]
Writes one line of JSON with the truth and then the PNG. Without many the profile is a
lock miter's; with it, by turns, also one with rounded corners, one with clearance in
the groove, an edge glue's, a drawer lock's, and a rubbing on paper. Several pieces
lie above one another, each turned and grained in its own way.
"""
import json
import struct
import sys
import zlib

import numpy as np

seed, dpi, pieces = int(sys.argv[1]), float(sys.argv[2]), int(sys.argv[3])
rnd = np.random.default_rng(seed)
px = dpi / 25.4


def uniform(a, b):
    return float(rnd.uniform(a, b))


# The profile: half of it as x and z from the centre, the other half by a half turn.
T = uniform(15, 25)
s, dx, dy, land = uniform(3.5, 6), uniform(0.7, 2), uniform(0.15, 0.7), uniform(2.8, 4.4)
half = [(14, -14), (s, -s), (s + dx, -s + dy), (s + dx, min(-s + dy + land, -0.15))]
kind = ["lock", "round", "clear", "glue", "drawer", "rubbing"][seed % 6] if len(sys.argv) > 4 else "lock"
if kind == "glue":
    d, a, b = uniform(4, 7), uniform(0.5, 1.1), uniform(2, 4)
    half, x, z = [(0.0, 0.0)], d / 2, a
    while z < 16:
        half += [(x, z), (x, z + b)]
        x, z = -x, z + b + 2 * a
    half = [(-p, -q) for p, q in reversed(half[1:])]
if kind == "drawer":
    p, q = uniform(4, 7), uniform(3, 5)
    half = [(p, -14), (p, -q), (-uniform(0.5, 2), -q + uniform(0.2, 0.6))]
    half.append((half[-1][0], -uniform(0.3, 1)))


def rounded(line, radii):
    """The line with its corners rounded by short chords, 1 degree each."""
    out = [line[0]]
    for k in range(1, len(line) - 1):
        q = np.array(line[k])
        u, v = np.array(line[k - 1]) - q, np.array(line[k + 1]) - q
        lu, lv = np.hypot(*u), np.hypot(*v)
        u, v = u / lu, v / lv
        half_angle = np.arccos(np.clip(u @ v, -1, 1)) / 2
        r = min(radii[k], 0.45 * min(lu, lv) * np.tan(half_angle))
        if r < 0.05:
            out.append(line[k])
            continue
        centre = q + (u + v) / np.hypot(*(u + v)) * r / np.sin(half_angle)
        a, b = q + u * r / np.tan(half_angle) - centre, q + v * r / np.tan(half_angle) - centre
        turn = np.arctan2(a[0] * b[1] - a[1] * b[0], a @ b)
        n = max(2, int(abs(np.degrees(turn))))
        for i in range(n + 1):
            c, w = np.cos(turn * i / n), np.sin(turn * i / n)
            out.append((float(centre[0] + c * a[0] - w * a[1]), float(centre[1] + w * a[0] + c * a[1])))
    return out + [line[-1]]


points = half + [(-a, -b) for a, b in reversed(half)]
if kind == "round":
    r = [0] + [uniform(0.3, 0.9) if uniform(0, 1) < 0.6 else 0 for _ in half[1:]]
    points = rounded(points, r + r[::-1])
if kind == "clear":  # the groove is deeper than the tongue is long
    c = uniform(0.1, 0.3)
    points = [(x - c if 4 <= k <= 5 else x, z) for k, (x, z) in enumerate(points)]
xs, zs = np.array([p[0] for p in points]), np.array([p[1] for p in points])
z0 = T / 2 + uniform(-0.5, 0.5)  # the centre above the face that was down
if kind == "glue":  # no sliver of a finger at a face, if it can be helped: it would break off
    tries = [T / 2 + uniform(-0.8, 0.8) for _ in range(60)]
    z0 = max(tries, key=lambda t: min(abs(z + t - f) for z in zs for f in (0, T)))
zs = zs + z0
low, high = np.interp([0.0, T], zs, xs)
inner = [(a, b) for a, b in zip(xs, zs) if 0 < b < T]
truth = [(low, 0.0)] + inner + [(high, T)]
x0 = min(a for a, _ in truth)
truth = [(float(a - x0), float(b)) for a, b in truth]
tx, tz = np.array([p[0] for p in truth]), np.array([p[1] for p in truth])


def blurred(a, sd):
    fy, fx = np.fft.fftfreq(a.shape[0]), np.fft.rfftfreq(a.shape[1])
    kernel = np.exp(-2 * (np.pi * sd) ** 2 * (fy[:, None] ** 2 + fx[None, :] ** 2))
    return np.fft.irfft2(np.fft.rfft2(a) * kernel, s=a.shape)


def drawn(wood, behind):
    """A piece in a picture of its own, its turn, and how bright wood and background are,
    which are drawn unless they are given."""
    length = max(tx) + uniform(8, 22)

    tilt = np.radians(uniform(-3, 3))
    margin = uniform(3, 7)
    right, dark = rnd.random() < 0.5, rnd.random() < 0.5
    corners = np.array([(0, 0), (length, 0), (length, T), (0, T)]) @ np.array([[np.cos(tilt), np.sin(tilt)], [-np.sin(tilt), np.cos(tilt)]])
    lo, hi = corners.min(axis=0) - margin, corners.max(axis=0) + margin
    w, h = int((hi[0] - lo[0]) * px), int((hi[1] - lo[1]) * px)

    def board(gx, gy):
        """The coordinates in the board of places in the picture, and what lies in it."""
        X, Y = lo[0] + gx / px, hi[1] - gy / px
        u, v = np.cos(tilt) * X + np.sin(tilt) * Y, -np.sin(tilt) * X + np.cos(tilt) * Y
        x = length - u if right else u
        return x, v, (v >= 0) & (v <= T) & (x <= length) & (x >= np.interp(v, tz, tx))

    jx, jy = rnd.random(2)
    gx, gy = np.meshgrid(np.arange(w) + jx, np.arange(h) + jy)
    x, z, whole = board(gx + 0.5, gy + 0.5)
    cover = whole.astype(float)
    edge = np.zeros((h, w), bool)  # pixels beside one of the other kind, two deep
    for n in (1, 2):
        for axis in (0, 1):
            edge |= (np.roll(whole, n, axis) != whole) | (np.roll(whole, -n, axis) != whole)
    ex, ey = gx[edge], gy[edge]
    cover[edge] = sum(board(ex + (i + 0.5) / 4, ey + (j + 0.5) / 4)[2] for i in range(4) for j in range(4)) / 16
    given = wood, behind
    wood, behind = (uniform(60, 170), uniform(205, 245)) if dark else (uniform(130, 220), uniform(10, 60))
    rings = np.hypot(x - uniform(-20, 60), z - uniform(-60, 80))
    period = uniform(0.7, 3)
    texture = -uniform(3, 30) * ((rings / period + 0.3 * np.sin(rings)) % 1) ** 2
    texture += blurred(rnd.normal(0, uniform(5, 25), cover.shape), 2)
    if kind == "rubbing":  # graphite on white paper, with the paper's own grain
        wood, behind = uniform(70, 130), uniform(215, 245)
        texture = blurred(rnd.normal(0, uniform(60, 140), cover.shape), uniform(1, 2))
    if given[0] is not None:
        wood, behind = given
    light = 1 + uniform(-0.12, 0.12) * (gx / w - 0.5) + uniform(-0.12, 0.12) * (gy / h - 0.5)
    if pieces > 1:  # no seams
        light = 1
    shade = blurred(np.roll(cover, int(uniform(0, 0.8) * px), axis=0), uniform(0.4, 1.5) * px)
    back = behind * (1 - uniform(0, 0.15) * shade)
    soft = blurred(cover, uniform(0.5, 1.5))
    picture = (soft * (wood + texture) + (1 - soft) * back) * light
    for _ in range(int(rnd.integers(0, 40))):
        cx, cy, a, b = uniform(0, w), uniform(0, h), uniform(0.03, 0.2) * px, uniform(0.03, 0.2) * px
        spot = ((gx - cx) / a) ** 2 + ((gy - cy) / b) ** 2 < 1
        picture[spot] = uniform(20, 240)
    picture += rnd.normal(0, uniform(1, 7), picture.shape)
    return np.clip(np.round(picture), 0, 255).astype(np.uint8), tilt, wood, behind


grey, tilt, wood, behind = drawn(None, None)
for _ in range(pieces - 1):
    more = drawn(wood, behind)[0]
    w = max(grey.shape[1], more.shape[1])
    # the background goes on, noise and all
    grey = np.vstack([np.hstack([g, np.tile(g[:, -16:], w // 16 + 1)])[:, :w] for g in (grey, more)])
h, w = grey.shape


def chunk(name, data):
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


rows = np.hstack([np.zeros((h, 1), np.uint8), grey]).tobytes()
metre = round(dpi / 0.0254)
png = b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", w, h, 8, 0, 0, 0, 0))
png += chunk(b"pHYs", struct.pack(">IIB", metre, metre, 1)) + chunk(b"IDAT", zlib.compress(rows, 1)) + chunk(b"IEND", b"")
line = json.dumps({"kind": kind, "thick": T, "tilt": float(np.degrees(tilt)), "centre": [float(-x0), z0], "profile": truth})
sys.stdout.buffer.write(line.encode() + b"\n" + png)
