#!/usr/bin/env python3
"""Figures of water supply and water heating from general-purpose libraries.

    VENV/bin/python water.py            writes water.json
    VENV/bin/python water.py --check    fails when water.json is not what the libraries give

See derive.py for how the environment is made. tests/reference_water.rs reads water.json.
"""

import argparse
import json
import math
import sys
from importlib.metadata import version
from pathlib import Path

from CoolProp.CoolProp import PropsSI
from fluids.atmosphere import ATMOSPHERE_1976
from fluids.friction import friction_factor

FIGURES = Path(__file__).with_name("water.json")
DRIFT = 1e-9

FOOT = 0.3048
INCH = 0.0254
PSI = 0.45359237 * 9.80665 / INCH**2
GALLON = 231 * INCH**3
ATMOSPHERE = 101325.0
VISCOSITY = 1.217e-5 * FOOT**2
DENSITY = 999.0

PIPES = {
    "copper-l": ((0.545, 0.785, 1.025, 1.265), 5e-6 * FOOT),
    "pex": ((0.485, 0.681, 0.875, 1.069), 5e-6 * FOOT),
    "cpvc": ((0.713, 0.921), 5e-6 * FOOT),
    "steel": ((0.824, 1.049, 1.380), 45.7e-6),
}
FLOWS = (0.1, 1, 4, 8, 12, 16, 20)


def figure(name, value, unit, function, package, **inputs):
    """One figure with where it came from."""
    return {"name": name, "value": value, "unit": unit, "function": function, "package": package,
            "version": version(package), "inputs": inputs}


def kelvin(fahrenheit):
    """The temperature in kelvins."""
    return (fahrenheit + 459.67) / 1.8


def friction():
    """Pressure lost over 100 ft by Darcy and Colebrook."""
    figures = []
    for kind, (diameters, roughness) in PIPES.items():
        for inches in diameters:
            for gpm in FLOWS:
                across = inches * INCH
                speed = gpm * GALLON / 60 / (math.pi / 4 * across**2)
                factor = friction_factor(Re=speed * across / VISCOSITY, eD=roughness / across, Method="Colebrook")
                lost = factor * 100 * FOOT / across * DENSITY * speed**2 / 2 / PSI
                figures.append(figure(f"darcy_{kind}_{inches}_{gpm}", lost, "psi/100 ft",
                                      "friction_factor(Re, eD, Method='Colebrook'), Darcy", "fluids", kind=kind,
                                      inside_diameter_in=inches, gpm=gpm, roughness_m=roughness,
                                      kinematic_viscosity_m2_s=VISCOSITY, density_kg_m3=DENSITY))
    return figures


def density(fahrenheit):
    """Density of water under one atmosphere, or on the boiling line just above 212 F, kg/m3."""
    return PropsSI("D", "T", kelvin(fahrenheit), "P", ATMOSPHERE, "Water")


def densities():
    """Density of water between freezing and boiling."""
    return [figure(f"density_{degrees}", density(degrees), "kg/m3", "PropsSI('D', 'T', T, 'P', 101325, 'Water')", "CoolProp",
                   temperature_F=degrees) for degrees in (33, *range(40, 212, 10))]


def tanks():
    """Expansion and the tank that takes it, by densities and Boyle's law alone."""
    figures = []
    for storage, cold, hot, precharge, line, greatest in (
        (50, 50, 140, 60, 60, 135), (50, 50, 140, 60, 60, 150), (50, 50, 140, 40, 60, 150), (50, 40, 150, 40, 60, 150),
        (40, 90, 140, 60, 60, 135), (80, 45, 160, 80, 80, 135),
    ):
        expansion = storage * (density(cold) / density(hot) - 1)
        charged = precharge + 14.7
        share = min(1, charged / (line + 14.7)) - charged / (greatest + 14.7)
        figures.append(figure(f"tank_{storage}_{cold}_{hot}_{precharge}_{line}_{greatest}", expansion / share, "gal",
                              "storage (D(cold)/D(hot) - 1) / (Pc/Pf - Pc/Po), absolute", "CoolProp", storage_gal=storage,
                              cold_F=cold, hot_F=hot, precharge_psi=precharge, line_psi=line, greatest_psi=greatest,
                              atmosphere_psi=14.7))
    return figures


def air():
    """Pressure of the atmosphere by elevation."""
    return [figure(f"atmosphere_{feet}", ATMOSPHERE_1976(feet * FOOT).P / PSI, "psi", "ATMOSPHERE_1976(Z).P", "fluids", feet=feet)
            for feet in (0, 1000, 2640, 5280, 6000, 10000)]


def derive():
    """All figures."""
    return [*friction(), *densities(), *tanks(), *air()]


def main():
    """Write the figures, or check them."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--check", action="store_true", help="compare with water.json instead of writing it")
    fresh = derive()
    if not parser.parse_args().check:
        FIGURES.write_text(json.dumps(fresh, indent=1) + "\n", encoding="utf-8")
        print(f"{len(fresh)} figures written")
        return 0
    stored = {each["name"]: each for each in json.loads(FIGURES.read_text(encoding="utf-8"))}
    differ = [each["name"] for each in fresh
              if each["name"] not in stored or not math.isclose(stored[each["name"]]["value"], each["value"], rel_tol=DRIFT)
              or any(stored[each["name"]][field] != json.loads(json.dumps(each[field])) for field in ("unit", "version", "inputs"))]
    differ += [name for name in stored if name not in {each["name"] for each in fresh}]
    for name in differ:
        print(f"{name} differs", file=sys.stderr)
    print(f"{len(fresh)} figures, {len(differ)} differences")
    return 1 if differ else 0


if __name__ == "__main__":
    sys.exit(main())
