#!/usr/bin/env python3
"""Figures from general-purpose libraries, to hold the handbook against something that is not ours.

    python3 -m venv VENV && VENV/bin/pip install -r requirements.txt
    VENV/bin/python derive.py            writes figures.json
    VENV/bin/python derive.py --check    fails when figures.json is not what the libraries give

The Rust tests read figures.json; nobody needs Python to build or test. Each figure records the function, package, version
and inputs it came from. Standard conditions here are 60 F and 14.696 psi absolute.
"""

import argparse
import json
import math
import sys
from importlib.metadata import version
from pathlib import Path

from chemicals import Hfg, combustion_data
from chemicals.combustion import fuel_air_spec_solver
from chemicals.elements import simple_formula_parser
from CoolProp.CoolProp import PropsSI
from fluids.friction import friction_factor
from fluids.piping import nearest_pipe
from pint import UnitRegistry
from scipy.optimize import brentq

FIGURES = Path(__file__).with_name("figures.json")
# Libraries answer the same to the last digits on every machine, but not to the last bit.
DRIFT = 1e-9

unit = UnitRegistry()
TEMPERATURE = unit.Quantity(60, unit.degF).to("K").magnitude
PRESSURE = (14.696 * unit.psi).to("Pa").magnitude
BTU = (1 * unit.Btu_it).to("J").magnitude
CUBIC_FOOT = (1 * unit.foot**3).to("m^3").magnitude
INCH = (1 * unit.inch).to("m").magnitude
INCH_OF_WATER = (1 * unit.inH2O).to("Pa").magnitude
ROUGHNESS_OF_STEEL = 45.7e-6

GASES = {"methane": ("Methane", "CH4", "74-82-8"), "propane": ("n-Propane", "C3H8", "74-98-6")}


def figure(name, value, unit_name, function, package, **inputs):
    """One figure with where it came from."""
    return {
        "name": name,
        "value": value,
        "unit": unit_name,
        "function": function,
        "package": package,
        "version": version(package),
        "inputs": inputs,
    }


def density(fluid):
    """Mass density at standard conditions, kg/m3."""
    return PropsSI("D", "T", TEMPERATURE, "P", PRESSURE, fluid)


def gross_heating_value(gas):
    """Gross heat of combustion per real cubic foot, Btu."""
    fluid, formula, cas = GASES[gas]
    joules_per_mole = -combustion_data(formula, Hf=Hfg(cas)).HHV
    moles_per_cubic_metre = PropsSI("Dmolar", "T", TEMPERATURE, "P", PRESSURE, fluid)
    return joules_per_mole * moles_per_cubic_metre * CUBIC_FOOT / BTU


def gas_figures():
    """Heating values, specific gravities and Wobbe indices."""
    figures = []
    conditions = {"temperature_K": TEMPERATURE, "pressure_Pa": PRESSURE}
    for gas, (fluid, formula, cas) in GASES.items():
        heat = gross_heating_value(gas)
        gravity = density(fluid) / density("Air")
        figures += [
            figure(f"{gas}_gross_heating_value", heat, "Btu/ft3", "combustion_data(formula, Hf=Hfg(cas)).HHV; density by CoolProp",
                   "chemicals", formula=formula, cas=cas, **conditions),
            figure(f"{gas}_specific_gravity", gravity, "1", "PropsSI('D', ..., fluid) / PropsSI('D', ..., 'Air')",
                   "CoolProp", fluid=fluid, **conditions),
            figure(f"{gas}_wobbe_index", heat / math.sqrt(gravity), "Btu/ft3", "heating value / sqrt(specific gravity)",
                   "chemicals", **conditions),
        ]
    ratio = figures[5]["value"] / figures[2]["value"]
    figures.append(figure("wobbe_ratio_propane_to_methane", ratio, "1", "quotient of the two indices", "chemicals", **conditions))
    return figures


def orifice_figures():
    """Flow through burner orifices from first principles: area times the root of twice the pressure over the density."""
    figures = []
    cases = [("Methane", 0.0935, 3.5), ("Methane", 0.0595, 7.0), ("n-Propane", 0.0550, 10.0), ("n-Propane", 0.0550, 11.0)]
    for fluid, diameter, head in cases:
        area = math.pi / 4 * (diameter * INCH) ** 2
        flow = 0.9 * area * math.sqrt(2 * head * INCH_OF_WATER / density(fluid)) * 3600 / CUBIC_FOOT
        figures.append(
            figure(f"orifice_{fluid}_{diameter}_{head}", flow, "ft3/h", "0.9 area sqrt(2 dp / PropsSI('D', ...))", "CoolProp",
                   fluid=fluid, diameter_in=diameter, pressure_inH2O=head, discharge_coefficient=0.9,
                   specific_gravity=density(fluid) / density("Air"))
        )
    return figures


def air_figure():
    """Volumes of air one volume of methane needs."""
    species = ["74-82-8", "7782-44-7", "7727-37-9", "124-38-9", "7732-18-5"]
    atoms = [simple_formula_parser(formula) for formula in ("CH4", "O2", "N2", "CO2", "H2O")]
    answer = fuel_air_spec_solver(
        zs_air=[0, 0.21, 0.79, 0, 0], zs_fuel=[1, 0, 0, 0, 0], CASs=species, atomss=atoms, n_fuel=1.0, O2_excess=0.0
    )
    return figure("air_per_volume_of_methane", answer["n_air"], "1", "fuel_air_spec_solver(..., O2_excess=0)['n_air']", "chemicals",
                  oxygen_in_air=0.21)


SIZES = {"1/2": 0.5, "3/4": 0.75, "1": 1, "1-1/4": 1.25, "1-1/2": 1.5, "2": 2, "2-1/2": 2.5, "3": 3, "4": 4}
CODE_DIAMETERS = {"1/2": 0.622, "3/4": 0.824, "1": 1.049, "1-1/4": 1.380, "1-1/2": 1.610, "2": 2.067}


def pipe_figures():
    """Inside diameters of schedule 40 pipe."""
    return [
        figure(f"schedule_40_{name}", nearest_pipe(NPS=size, schedule="40")[1] / INCH, "in", "nearest_pipe(NPS, schedule)[1]",
               "fluids", nps=size, schedule="40")
        for name, size in SIZES.items()
    ]


def darcy_flow(diameter, length, drop):
    """Flow of a gas of specific gravity 0.60 through steel pipe by Darcy and Colebrook, ft3/h."""
    gas_density = 0.60 * density("Air")
    viscosity = PropsSI("V", "T", TEMPERATURE, "P", PRESSURE, "Methane")
    area = math.pi / 4 * diameter**2

    def excess(speed):
        reynolds = gas_density * speed * diameter / viscosity
        factor = friction_factor(Re=reynolds, eD=ROUGHNESS_OF_STEEL / diameter, Method="Colebrook")
        return factor * length / diameter * gas_density * speed**2 / 2 - drop

    return brentq(excess, 1e-3, 1e3, xtol=1e-13, rtol=1e-13) * area * 3600 / CUBIC_FOOT


def darcy_figures():
    """A physical band around the code's pipe equation."""
    return [
        figure(f"darcy_{name}_{length}", darcy_flow(diameter * INCH, length * 12 * INCH, 0.5 * INCH_OF_WATER), "ft3/h",
               "friction_factor(Re, eD, Method='Colebrook'), Darcy, brentq", "fluids", inside_diameter_in=diameter,
               length_ft=length, drop_inH2O=0.5, specific_gravity=0.60, roughness_m=ROUGHNESS_OF_STEEL)
        for name, diameter in CODE_DIAMETERS.items()
        for length in (10, 60, 100)
    ]


def unit_figures():
    """Factors of the units the handbook prints in."""
    units = {
        "btu_per_hour": (unit.Btu_it / unit.hour, "W"),
        "inch_of_water": (unit.inH2O, "Pa"),
        "psi": (unit.psi, "Pa"),
        "cubic_foot": (unit.foot**3, "m^3"),
        "cubic_foot_per_minute": (unit.foot**3 / unit.minute, "m^3/s"),
        "cubic_foot_per_hour": (unit.foot**3 / unit.hour, "m^3/s"),
        "square_inch": (unit.inch**2, "m^2"),
        "btu_per_cubic_foot": (unit.Btu_it / unit.foot**3, "J/m^3"),
    }
    return [
        figure(f"unit_{name}", (1 * of).to(si).magnitude, si, "Quantity.to", "pint", unit=str(of))
        for name, (of, si) in units.items()
    ]


def derive():
    """All figures."""
    return [
        *gas_figures(), *orifice_figures(), air_figure(), *pipe_figures(), *darcy_figures(), *unit_figures(),
    ]


def drifts(stored, fresh):
    """What differs, in words."""
    found = []
    before = {each["name"]: each for each in stored}
    for each in fresh:
        old = before.pop(each["name"], None)
        if old is None:
            found.append(f"{each['name']} is not in {FIGURES.name}")
            continue
        if not math.isclose(old["value"], each["value"], rel_tol=DRIFT):
            found.append(f"{each['name']} is {each['value']!r}, {FIGURES.name} has {old['value']!r}")
        for field in ("unit", "function", "package", "version"):
            if old[field] != each[field]:
                found.append(f"{each['name']}: {field} is {each[field]!r}, {FIGURES.name} has {old[field]!r}")
        if old["inputs"] != json.loads(json.dumps(each["inputs"])):
            found.append(f"{each['name']}: inputs are {each['inputs']!r}, {FIGURES.name} has {old['inputs']!r}")
    return found + [f"{name} is in {FIGURES.name} and is no longer derived" for name in before]


def main():
    """Write the figures, or check them."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--check", action="store_true", help="compare with figures.json instead of writing it")
    check = parser.parse_args().check
    fresh = derive()
    if not check:
        draft = FIGURES.with_suffix(".json.part")
        draft.write_text(json.dumps(fresh, indent=2) + "\n", encoding="utf-8")
        draft.replace(FIGURES)
        print(f"{len(fresh)} figures written")
        return 0
    found = drifts(json.loads(FIGURES.read_text(encoding="utf-8")), fresh)
    for line in found:
        print(line, file=sys.stderr)
    print(f"{len(fresh)} figures, {len(found)} differences")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
