#!/usr/bin/env python3
"""Gas flow in pipes by a general hydraulics library, to hold the code's pipe equations and our bores against.

    VENV/bin/python gas_pipe.py            writes gas_pipe.json
    VENV/bin/python gas_pipe.py --check    fails when gas_pipe.json is not what the library gives

The Spitzglass formulas are the older laws of the gas trade; Darcy with Colebrook's friction factor is physics with an assumed
roughness (45.7 micrometres, commercial steel; 1.5, drawn tube). The code's equations are a power law fitted between them.
Standard conditions: 60 F and 30 inches of mercury, as the code takes them. Each figure records function, version and inputs.
"""

import argparse
import json
import math
import sys
from importlib.metadata import version
from pathlib import Path

from fluids.compressible import Spitzglass_high, Spitzglass_low
from fluids.friction import friction_factor
from fluids.piping import nearest_pipe
from scipy.optimize import brentq

FIGURES = Path(__file__).with_name("gas_pipe.json")
DRIFT = 1e-9
INCH, FOOT = 0.0254, 0.3048
INCH_OF_WATER = INCH * 1000.0 * 9.80665
PSI = 0.45359237 * 9.80665 / INCH**2
ATMOSPHERE = 14.7 * PSI
STANDARD = 30.0 * 3386.389
T = (60.0 - 32.0) / 1.8 + 273.15
HOURLY_CUBIC_FOOT = FOOT**3 / 3600.0
AIR = 28.9647e-3
R = 8.31446261815324
GASES = {"natural": (0.60, 1.1e-5), "propane": (1.50, 8.0e-6)}
BORES = {"1/2": 0.622, "3/4": 0.824, "1": 1.049, "1-1/4": 1.380, "2": 2.067}


def figure(name, value, unit, function, package, **inputs):
    return {"name": name, "value": value, "unit": unit, "function": function, "package": package,
            "version": version(package), "inputs": inputs}


def bores():
    """Inside diameters of schedule 10 steel pipe."""
    for size, nominal in {"1/2": 0.5, "3/4": 0.75, "1": 1.0, "1-1/4": 1.25, "1-1/2": 1.5, "2": 2.0}.items():
        inside = nearest_pipe(NPS=nominal, schedule="10")[1]
        yield figure(f"schedule_10_{size}", inside / INCH, "in", "nearest_pipe(NPS, schedule)[1]", "fluids", NPS=nominal, schedule="10")


def spitzglass():
    """Flow by both Spitzglass formulas, cubic feet per hour at standard conditions, pipe efficiency 1."""
    for gas, (gravity, _) in GASES.items():
        for size, bore in BORES.items():
            for length in (20.0, 60.0, 100.0):
                start, drop = ((7.0, 0.5) if gas == "natural" else (11.0, 0.5))
                low = Spitzglass_low(SG=gravity, Tavg=T, L=length * FOOT, D=bore * INCH, P1=ATMOSPHERE + start * INCH_OF_WATER,
                                     P2=ATMOSPHERE + (start - drop) * INCH_OF_WATER, Ts=T, Ps=STANDARD, Zavg=1.0, E=1.0)
                yield figure(f"spitzglass_low_{gas}_{size}_{length:g}", low / HOURLY_CUBIC_FOOT, "ft3/h", "Spitzglass_low", "fluids",
                             gas=gas, bore_in=bore, length_ft=length, drop_in_wc=drop)
                high = Spitzglass_high(SG=gravity, Tavg=T, L=length * FOOT, D=bore * INCH, P1=ATMOSPHERE + 2.0 * PSI,
                                       P2=ATMOSPHERE + 1.0 * PSI, Ts=T, Ps=STANDARD, Zavg=1.0, E=1.0)
                yield figure(f"spitzglass_high_{gas}_{size}_{length:g}", high / HOURLY_CUBIC_FOOT, "ft3/h", "Spitzglass_high", "fluids",
                             gas=gas, bore_in=bore, length_ft=length, start_psi=2.0, end_psi=1.0)


def darcy_drop(flow, bore, length, gravity, viscosity, start):
    """Drop in inches of water of a flow in cubic feet per hour, isothermal, density at the start pressure."""
    density_standard = STANDARD * AIR * gravity / (R * T)
    density = (ATMOSPHERE + start) * AIR * gravity / (R * T)
    mass = flow * HOURLY_CUBIC_FOOT * density_standard
    area = math.pi / 4.0 * (bore * INCH) ** 2
    speed = mass / density / area
    reynolds = density * speed * bore * INCH / viscosity
    friction = friction_factor(Re=reynolds, eD=45.7e-6 / (bore * INCH))
    return friction * length * FOOT / (bore * INCH) * density * speed**2 / 2.0 / INCH_OF_WATER


def darcy():
    """The drop of the pipes of the worked manifold, and of a natural gas branch."""
    runs = [("manifold_trunk", "propane", 366_000 / 2500, 1.049, 20.0), ("manifold_middle", "propane", 167_000 / 2500, 0.824, 15.0),
            ("manifold_end", "propane", 87_000 / 2500, 0.622, 15.0), ("manifold_range", "propane", 65_000 / 2500, 0.622, 10.0),
            ("branch", "natural", 199.0, 0.824, 30.0), ("appendix_section_3", "natural", 245.0, 1.049, 60.0)]
    for name, gas, flow, bore, length in runs:
        gravity, viscosity = GASES[gas]
        start = 11.0 if gas == "propane" else 7.0
        drop = darcy_drop(flow, bore, length, gravity, viscosity, start * INCH_OF_WATER)
        yield figure(f"drop_{name}", drop, "in wc", "friction_factor(Re, eD), Darcy-Weisbach", "fluids",
                     gas=gas, flow_cfh=flow, bore_in=bore, length_ft=length, start_in_wc=start)


def tube():
    """Flow in smooth tube by Darcy, for copper and polyethylene at their printed capacities' drop of 0.5 in wc."""
    for name, bore in {"copper_0.527": 0.527, "copper_0.652": 0.652, "plastic_0.660": 0.660, "plastic_0.860": 0.860}.items():
        gravity, viscosity = GASES["propane"]

        def excess(flow, bore=bore):
            density = (ATMOSPHERE + 11.0 * INCH_OF_WATER) * AIR * gravity / (R * T)
            mass = flow * HOURLY_CUBIC_FOOT * STANDARD * AIR * gravity / (R * T)
            speed = mass / density / (math.pi / 4.0 * (bore * INCH) ** 2)
            friction = friction_factor(Re=density * speed * bore * INCH / viscosity, eD=1.5e-6 / (bore * INCH))
            return friction * 10.0 * FOOT / (bore * INCH) * density * speed**2 / 2.0 - 0.5 * INCH_OF_WATER

        flow = brentq(excess, 1.0, 10_000.0)
        yield figure(f"tube_{name}", flow, "ft3/h", "friction_factor(Re, eD), Darcy-Weisbach, brentq", "fluids",
                     bore_in=bore, length_ft=10.0, drop_in_wc=0.5)


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--check", action="store_true", help="compare with gas_pipe.json instead of writing it")
    fresh = [*bores(), *spitzglass(), *darcy(), *tube()]
    if not parser.parse_args().check:
        FIGURES.write_text(json.dumps(fresh, indent=2) + "\n", encoding="utf-8")
        print(f"{len(fresh)} figures written")
        return 0
    stored = json.loads(FIGURES.read_text(encoding="utf-8"))
    same = len(stored) == len(fresh) and all(
        {**old, "value": 0} == json.loads(json.dumps({**new, "value": 0})) and math.isclose(old["value"], new["value"], rel_tol=DRIFT)
        for old, new in zip(stored, fresh))
    print(f"{len(fresh)} figures, {'none' if same else 'some'} different")
    return 0 if same else 1


if __name__ == "__main__":
    sys.exit(main())
