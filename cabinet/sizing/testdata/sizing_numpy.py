"""The closed-form columns of gapline sweep --csv, vectorised: what speed is measured by.

    python3 sizing_numpy.py pitch|pitch-width|length OUT.csv
    python3 sizing_numpy.py pitch|pitch-width|length OUT.npy     without the text

The design is the starter hatch without its [follow] links, and the sweeps are

    gapline sweep free.toml --csv --vary cabinet.pitch=272:372:0.001mm
    gapline sweep free.toml --csv --vary cabinet.pitch=272:367:0.3mm --vary horn.mouth_width=280:375:0.3mm
    gapline sweep free.toml --csv --vary horn.length=250:350:0.001mm

Computed are air, coupling with lobes and efficiency, the horn's rule and its computed
pattern (scaled from that of a mouth of 1 m, which UNIT holds), cutoff, flat front, gap
and near field. Fold and low end are constants, the first lobe of a folded front too,
which is no closed form. Doubles; nine digits in the text, as gapline prints.

Formulas: in the doc comments of cabinet/sizing; J1 by its power series.
"""

import sys

import numpy as np

BOXES, DIAMETER, TARGET = 7, 2 * np.sqrt(308e-4 / np.pi), 10 ** (-12 / 20)
COVERAGE, HEIGHT, THROAT, LOWEST, PATH = np.radians(85), 0.258, 0.036, 800.0, 1.5
T, HUMIDITY, P = 24.0, 0.6, 101325.0
C, RHO = 346.65693960, 1.17994959  # of the air above
# Pattern control of a mouth of 1 m at c = 1 m/s and 85 degrees: W/lambda where the
# width first equals the coverage, at the waist, and the width there in degrees.
UNIT, UNIT_WAIST, WAIST = 980.825925 * 0.33 / C, 1716.72713 * 0.33 / C, 55.0411158
# Fold, low end, parts and prices.
FOLD = [0.142, 0.155862833, 1.358, 0.00553678135, 15652.4576, -1.08271674, 12380.605, 111.67228, 0.092, 0.032]
LOW_END = [60.4375794, 116.971941, 60, 0.0002156, 2, 14, 1, 300, 2100, 12]
FLAT_LOBE = 11543.3729


def jinc(x):
    """2 J1(x)/x by its power series, good to 1e-10 below x = 12."""
    q, term, total = -x * x / 4, 1.0, 1.0
    for m in range(1, 24):
        term = term * (q / (m * (m + 1)))
        total = total + term
    return total


def sinc(x):
    return np.sinc(x / np.pi)


def lobes(pitch):
    """Level of the first lobe, and the frequency of the first over the target."""
    first = np.abs(jinc(np.pi * DIAMETER / pitch))
    limit, left = C / pitch, first <= TARGET
    for m in range(2, 65):
        if not left.any():
            break
        over = left & (np.abs(jinc(np.pi * m * DIAMETER / np.where(left, pitch, 1))) > TARGET)
        limit[over], left = m * C / pitch[over], left & ~over
    limit[left] = np.inf
    return np.maximum(20 * np.log10(first), -200), limit


X8, W8 = np.polynomial.legendre.leggauss(8)


def efficiency(pitch, wavelength):
    """Directivity factor of the line of cones over that of a continuous line."""
    length = BOXES * pitch
    panels = 2 + (length / wavelength / 2).astype(int)
    out = np.empty_like(pitch)
    for n in np.unique(panels):
        i = panels == n
        k, p = 2 * np.pi / wavelength[i], pitch[i]
        line, whole = 0.0, 0.0
        for j in range(n):
            for x, w in zip(X8, W8):
                u = (j + 0.5 + x / 2) / n
                a = k * p * u / 2
                s = np.sin(a)
                array = np.where(np.abs(s) < 1e-9, 1, np.sin(BOXES * a) / (BOXES * s))
                line = line + w * (array * jinc(k * u * DIAMETER / 2)) ** 2
                whole = whole + w * sinc(BOXES * a) ** 2
        out[i] = whole / line
    return out


def columns(pitch, width, length):
    n, one = len(pitch), np.ones(len(pitch))
    line = BOXES * pitch
    half_wave = C / (2 * pitch)
    first, lobe = lobes(pitch)
    rule = 1e6 * 0.0254 / (width * np.degrees(COVERAGE))
    computed = UNIT * C / width
    cutoff = np.log(width * HEIGHT / (np.pi * THROAT**2 / 4)) / length * C / (4 * np.pi)
    lower = np.maximum(np.maximum(rule, 1.2 * cutoff), LOWEST)
    sagitta = (np.hypot(PATH, HEIGHT / 2) - PATH) * one
    gap = np.log2(lower / half_wave)
    crossover = np.where(half_wave >= lower, np.sqrt(half_wave * lower), np.nan)
    varying = [
        C * one, RHO * one, C / line, pitch, line, pitch, half_wave, lobe, first, DIAMETER / pitch,
        efficiency(pitch, C / lower), rule, computed, WAIST * one, UNIT_WAIST * C / width, cutoff, lower, PATH * one,
        sagitta, C / (4 * sagitta), FLAT_LOBE * one, HEIGHT / pitch, width * one, np.degrees(COVERAGE) * one, rule / computed - 1,
    ]
    fold = [x * one for x in FOLD]
    return varying + fold + [gap, half_wave, lower, crossover] + [x * one for x in LOW_END] + [line * line * 1000 / (2 * C)]


def main(sweep, out):
    pitch = 0.272 + 1e-6 * np.arange(100001)
    if sweep == "pitch":
        keys = [pitch]
        table = columns(pitch, 0.33 * np.ones_like(pitch), 0.32)
    elif sweep == "pitch-width":
        p, w = 0.272 + 3e-4 * np.arange(317), 0.28 + 3e-4 * np.arange(317)
        keys = [np.repeat(p, len(w)), np.tile(w, len(p))]
        table = columns(*keys, 0.32)
    else:
        keys = [0.25 + 1e-6 * np.arange(100001)]
        one = np.ones_like(keys[0])
        table = columns(0.272 * one, 0.33 * one, keys[0])
    table = np.column_stack(keys + table)
    if out.endswith(".npy"):
        np.save(out, table)
    else:
        np.savetxt(out, table, fmt="%.9g", delimiter=",")


main(*sys.argv[1:])
