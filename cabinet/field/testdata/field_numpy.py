"""The field sums of the benchmarks in speed_test.go, vectorised: what speed is measured by.

    python3 field_numpy.py polar|polar32|map|curved

polar    36 flat strips, 721 directions, 200 frequencies, doubles (polar32: singles)
map      12 boxes of two cones and a curved horn mouth over a floor that reflects, in
         air that absorbs, 400 x 300 points, 30 frequencies
curved   the same boxes, far field, 721 directions, 200 frequencies

Printed is the CPU time and the time for each term (mouth or image, place, frequency).
Cosine and sine are taken apart, as NumPy has no function for both. Patterns of cones
and of curved sides come from tables by np.interp, filled before the clock starts. No
mouth is cut into patches and no near field is corrected: that work gapline does on top.
Nor are mirror images summed as one, as gapline does in the side view.
OUT.npy as a second word keeps the levels, for a look at both.
"""

import sys
import time

import numpy as np

C = 343.2
HZ = np.geomspace(20, 20000, 200)
THIRDS = 1000 * 10 ** (0.1 * np.arange(-17, 13))


def polar(real):
    """12 boxes of three strips, in the near field of 50 m."""
    angle = 2 * np.pi * np.arange(721) / 720
    at = 50 * np.stack([np.cos(angle), np.sin(angle)], 1)
    box = (np.arange(12) - 5.5) * 0.25
    middle = np.concatenate([box + 0.08, box, box - 0.08])
    height = np.repeat([0.07, 0.08, 0.07], 12)
    k = (2 * np.pi / C * HZ).astype(real)
    re = np.zeros((len(at), len(k)), real)
    im = np.zeros_like(re)
    for z, h in zip(middle, height):
        r = np.hypot(at[:, 0], at[:, 1] - z)
        x = np.abs((at[:, 1] - z) / r * h / 2).astype(real)[:, None] * k + real(1e-12)
        a = np.sin(x) / x * (1 / r).astype(real)[:, None]
        phase = r.astype(real)[:, None] * k
        re += a * np.cos(phase)
        im -= a * np.sin(phase)
    return re, im


# 2 J1(x)/x from Bessel's integral, and the curved sides' patterns, by frequency.
JINC_X = np.linspace(0, 256, 8 * 256 + 1)


def jinc_table():
    t = (np.arange(400) + 0.5) * np.pi / 400
    x = np.maximum(JINC_X, 1e-9)[:, None]
    return (2 / x * np.cos(t - x * np.sin(t))).mean(1)


def curved_table(half, apex, k):
    """Nodes over X and mean(exp(jXt - jk delta)) there, two frequencies in a row."""
    top = k * half
    x = np.linspace(-top, top, int(12 * top) + 2)
    t, w = np.polynomial.legendre.leggauss(16 + int(2 * top))
    delay = np.sqrt(apex**2 + (half * t) ** 2) - apex
    return x, np.exp(1j * (x[:, None] * t - k * delay)) @ (w / 2)


def hall():
    """Middles and axes of a curved stack: cones (y = +-0.28) and horn mouths."""
    steps = np.concatenate([[0], np.arange(1, 12) * 0.5 / 66])
    angle, z, x = 0.0, 9.0, 0.0
    for s in steps:
        angle += s
        sin, cos = np.sin(angle), np.cos(angle)
        yield np.array([x - 0.155 * sin, 0, z - 0.155 * cos]), np.array([cos, 0, -sin]), np.array([sin, 0, cos])
        x, z = x - 0.31 * sin, z - 0.31 * cos


def mouths():
    for middle, forward, up in hall():
        for y in (0.28, -0.28):
            yield "cone", middle + [0, y, 0], forward, up
        yield "horn", middle, forward, up


def stack(at, far, hz, images, alpha, tables):
    """Two drives' sums at places, blocks of places at a time."""
    jinc, wide, tall = tables
    k = 2 * np.pi / C * hz
    level = np.empty((len(hz), len(at)))
    for lo in range(0, len(at), 256):
        block = at[lo : lo + 256]
        re = np.zeros((len(hz), len(block)))
        im = np.zeros_like(re)
        for image in images:
            place = block * [1, 1, image]
            for kind, middle, forward, up in mouths():
                if far:
                    unit, path, amp = place, -place @ middle, np.ones(len(place))
                else:
                    d = place - middle
                    path = np.sqrt((d**2).sum(1))
                    unit, amp = d / path[:, None], 1 / path
                u, v = unit @ up, unit[:, 1]
                phase = k[:, None] * path
                if alpha is not None:
                    amp = amp * np.exp(-alpha[:, None] * path)
                if kind == "cone":
                    x = k[:, None] * (0.1 * np.sqrt(np.maximum(1 - (unit @ forward) ** 2, 0)))
                    a = amp * np.interp(x, JINC_X, jinc)
                    re += a * np.cos(phase)
                    im -= a * np.sin(phase)
                    continue
                p = np.empty((len(hz), len(place)), complex)
                for i, f in enumerate(k):
                    p[i] = np.interp(f * 0.075 * v, wide[i][0], wide[i][1]) * np.interp(f * 0.14 * u, tall[i][0], tall[i][1])
                p *= amp
                c, s = np.cos(phase), np.sin(phase)
                re += p.real * c + p.imag * s
                im += p.imag * c - p.real * s
        level[:, lo : lo + 256] = 10 * np.log10(re * re + im * im)
    return level


def main(what, out=None):
    if what in ("map", "curved"):
        hz = THIRDS if what == "map" else HZ
        tables = jinc_table(), [curved_table(0.075, 0.1, f) for f in 2 * np.pi / C * hz], [
            curved_table(0.14, 1.5, f) for f in 2 * np.pi / C * hz]
    start = time.process_time()
    if what in ("polar", "polar32"):
        result = polar(np.float64 if what == "polar" else np.float32)
        terms = 36 * 721 * 200
    elif what == "map":
        x, z = np.meshgrid(np.linspace(-2, 40, 400), np.linspace(0, 12, 300))
        at = np.stack([x.ravel(), np.zeros(x.size), z.ravel()], 1)
        alpha = 1e-9 * hz**1.7  # any absorption takes the same time
        result = stack(at, False, hz, (1, -1), alpha, tables)
        terms = 2 * 36 * len(at) * len(hz)
    else:
        angle = np.linspace(-np.pi, np.pi, 721)
        at = np.stack([np.cos(angle), np.zeros(721), np.sin(angle)], 1)
        result = stack(at, True, hz, (1,), None, tables)
        terms = 36 * len(at) * len(hz)
    spent = time.process_time() - start
    print(f"{what}: {spent:.3f} s of CPU, {spent / terms * 1e9:.2f} ns a term, NumPy {np.__version__}")
    if out:
        np.save(out, result)


main(*sys.argv[1:])
