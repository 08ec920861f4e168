"""Figures for drainage from general-purpose libraries: floods of grids, Manning flow, orifices, rims.

Run with the packages of requirements.txt: python drainage.py > drainage.json
"""
import json
import math

import fluids
import numpy as np
import skimage
from skimage.morphology import reconstruction

FT = 0.3048
GALLON = 231 * 0.0254**3


def flooded(heights, outlets, eight):
    """Morphological reconstruction by erosion: high everywhere but at outlets, down to the ground; the border is a wall."""
    seed = np.full_like(heights, heights.max())
    for row, column in outlets:
        seed[row, column] = heights[row, column]
    footprint = np.ones((3, 3)) if eight else np.array([[0, 1, 0], [1, 1, 1], [0, 1, 0]])
    return reconstruction(seed, heights, method="erosion", footprint=footprint)


def grids():
    rng = np.random.default_rng(20261125)
    cases = []
    for index in range(24):
        rows, columns = rng.integers(2, 14, 2)
        # Every third grid is stepped, so that equal heights occur.
        heights = rng.integers(0, 9, (rows, columns)) / 8.0 if index % 3 == 0 else rng.normal(0, 1, (rows, columns)).round(6)
        count = int(rng.integers(1, 4))
        outlets = [[int(rng.integers(rows)), int(rng.integers(columns))] for _ in range(count)]
        for eight in (False, True):
            level = flooded(heights, outlets, eight)
            cases.append({"columns": int(columns), "heights": heights.ravel().tolist(), "eight": eight,
                          "outlets": [int(r * columns + c) for r, c in outlets], "levels": level.ravel().tolist()})
    return cases


def manning():
    cases = []
    for inches in (1.59, 2.047, 3.042, 3.998, 6.065):
        for slope in (1 / 96, 1 / 48, 1 / 24):
            for n in (0.009, 0.011, 0.013):
                for fill in (0.25, 0.5, 0.75, 0.938, 1.0):
                    d = inches * 0.0254
                    theta = 2 * math.acos(1 - 2 * fill)
                    area, wetted = d * d / 8 * (theta - math.sin(theta)), d * theta / 2
                    velocity = fluids.open_flow.V_Manning(Rh=area / wetted, S=slope, n=n)
                    cases.append({"diameter_in": inches, "slope": slope, "n": n, "fill": fill,
                                  "flow_gpm": velocity * area / GALLON * 60, "velocity_fps": velocity / FT})
    return cases


def orifices():
    cases = []
    for square_inches in (0.5, 2.0, 6.0, 9.0):
        for inches in (0.25, 0.5, 1.0, 2.0):
            bore = math.sqrt(4 * square_inches * 0.0254**2 / math.pi)
            # The formula's own gravity, 32.174 ft/s2; a bore in an endless plate.
            drop = 1000.0 * 32.174 * FT * inches * 0.0254
            mass = fluids.flow_meter.flow_meter_discharge(D=1e4, Do=bore, P1=1e5 + drop, P2=1e5, rho=1000.0, C=0.67)
            cases.append({"open_in2": square_inches, "depth_in": inches, "flow_gpm": mass / 1000.0 / GALLON * 60})
    return cases


def rims():
    """A sharp weir across a wide channel (Ackers): a newer coefficient, 9 to 14 percent above HEC-22, so that ours is on the safe side."""
    cases = []
    for inches in (1.0, 2.0):
        flow = fluids.open_flow.Q_weir_rectangular_full_Ackers(h1=inches * 0.0254, h2=10.0, b=0.4)
        cases.append({"length_m": 0.4, "depth_in": inches, "flow_gpm": flow / GALLON * 60})
    return cases


print(json.dumps({"about": "regenerate with drainage.py", "fluids": fluids.__version__, "scikit_image": skimage.__version__,
                  "grids": grids(), "manning": manning(), "orifices": orifices(), "rims": rims()}))
