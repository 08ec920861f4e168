"""Battery run times by stepping an ordinary differential equation, for the exact event-by-event runs of the handbook.

scipy.integrate.solve_ivp (DOP853) integrates the stored energy within each hour; its event finder locates empty, full, the
generator's start and stop; fuel is a second state. Run with the packages of requirements.txt: python standby.py > standby.json
"""
import json

import numpy as np
import scipy
from scipy.integrate import solve_ivp


def simulate(case):
    full, floor = case["capacity"], min(case["reserve"], case["capacity"])
    generator = case["generator"]
    fuel = generator["fuel"] if generator and generator["fuel"] is not None else 1e9
    level = lambda share: floor + (full - floor) * share
    stored, running, ran = full, False, 0.0
    for index in range(case["hours"]):
        hour = (case["begins"] + index) % 24
        load, solar = case["load"][hour], case["solar"][hour]
        t = 0.0
        for _ in range(400):
            if t >= 1 - 1e-12:
                break
            allowed = bool(generator and generator["hours"][hour] and fuel > 1e-9)
            if not allowed:
                running = False
            elif running:
                running = stored < level(generator["stop"]) - 1e-9
            else:
                running = stored <= level(generator["start"]) + 1e-9
            surplus = generator["power"] + solar if running else solar - load
            if surplus < 0 and stored <= floor + 1e-9:
                return {"lasts": index + t, "generator": ran, "stored": stored}
            if surplus > 0:
                taken = min(surplus, case["limit"]) if case["limit"] is not None else surplus
                rate = taken * case["efficiency"] if case["charges"] and stored < full - 1e-9 else 0.0
            else:
                rate = surplus
            burn = 1.0 if running else 0.0
            marks = [lambda _, y: y[1]]
            if rate < 0:
                marks.append(lambda _, y: y[0] - floor)
                if allowed and not running and stored > level(generator["start"]) + 1e-9:
                    marks.append(lambda _, y: y[0] - level(generator["start"]))
            if rate > 0:
                marks.append(lambda _, y: y[0] - full)
                if running:
                    marks.append(lambda _, y: y[0] - level(generator["stop"]))
            for mark in marks:
                mark.terminal = True
            solved = solve_ivp(lambda *_: [rate, -burn], (t, 1.0), [stored, fuel], method="DOP853", events=marks, rtol=1e-11, atol=1e-12)
            ran += burn * (solved.t[-1] - t)
            t = float(solved.t[-1])
            stored, fuel = float(min(max(solved.y[0, -1], floor), full)), float(solved.y[1, -1])
    return {"lasts": None, "generator": ran, "stored": stored}


def cases():
    rng = np.random.default_rng(20261126)
    every = []
    for index in range(120):
        capacity = round(float(rng.uniform(3, 45)), 3)
        load = rng.uniform(0.05, 1.2, 24) * (rng.random(24) < 0.9)
        solar = np.clip(np.sin((np.arange(24) - 6) / 12 * np.pi), 0, None) * rng.uniform(0, 7) if index % 2 else np.zeros(24)
        generator = None
        if index % 3 == 0:
            start = round(float(rng.uniform(0.05, 0.4)), 3)
            generator = {"power": round(float(rng.uniform(0.5, 6)), 3), "start": start, "stop": round(float(rng.uniform(0.6, 1)), 3),
                         "hours": [bool(on) for on in rng.random(24) < 0.6], "fuel": round(float(rng.uniform(2, 30)), 3) if index % 2 else None}
        case = {"capacity": capacity, "reserve": round(float(capacity * rng.choice([0, 0.1, 0.2])), 3),
                "limit": round(float(rng.uniform(1, 8)), 3) if index % 5 else None, "efficiency": round(float(rng.uniform(0.85, 1)), 3),
                "charges": bool(index % 7), "load": load.round(4).tolist(), "solar": solar.round(4).tolist(), "generator": generator,
                "begins": int(rng.integers(24)), "hours": 120}
        case["answer"] = simulate(case)
        every.append(case)
    return every


print(json.dumps({"made_by": f"scipy {scipy.__version__} solve_ivp DOP853, numpy {np.__version__} default_rng(20261126)",
                  "units": "kWh, kW, h", "cases": cases()}, indent=None))
