"""Board areas of random rooms, by shapely: run `python areas.py > areas.json` with shapely (version in the output) installed.

A room is a polygon in plan. Every wall is one side of it; openings are rectangles in the wall, given by their middle in plan, width,
height and lower edge. Some overlap and some stick out of the wall. The board of a wall is its rectangle less the union of its openings;
the board of the ceiling is the outline less its holes.
"""

import json
import random

import shapely
from shapely.geometry import LineString, Point, Polygon, box
from shapely.ops import unary_union

random.seed(20251125)
ROOMS = 60


def outline():
    """A star-shaped or an L-shaped outline, in metres."""
    if random.random() < 0.5:
        w, d = random.uniform(3, 9), random.uniform(3, 7)
        a, b = random.uniform(0.3, 0.7) * w, random.uniform(0.3, 0.7) * d
        return [(0, 0), (w, 0), (w, b), (a, b), (a, d), (0, d)]
    import math

    n = random.randint(3, 8)
    return [
        (r * math.cos(2 * math.pi * i / n), r * math.sin(2 * math.pi * i / n))
        for i in range(n)
        for r in [random.uniform(2.0, 5.0)]
    ]


def room():
    corners = [(round(x, 4), round(y, 4)) for x, y in outline()]
    height = round(random.uniform(2.1, 3.3), 4)
    walls = []
    for a, b in zip(corners, corners[1:] + corners[:1]):
        line = LineString([a, b])
        openings = []
        for _ in range(random.randint(0, 3)):
            at = line.interpolate(random.random(), normalized=True)
            openings.append(
                {
                    "x": round(at.x, 6),
                    "y": round(at.y, 6),
                    "width": round(random.uniform(0.2, 1.4), 4),
                    "height": round(random.uniform(0.2, 2.2), 4),
                    "bottom": round(random.choice([0.0, random.uniform(0, 2.0)]), 4),
                }
            )
        face = box(0, 0, line.length, height)
        cuts = []
        for o in openings:
            middle = line.project(Point(o["x"], o["y"]))
            cuts.append(box(middle - o["width"] / 2, o["bottom"], middle + o["width"] / 2, o["bottom"] + o["height"]))
        net = face.difference(unary_union(cuts)) if cuts else face
        walls.append({"from": a, "to": b, "openings": openings, "gross": face.area, "net": net.area})
    centre = Polygon(corners).representative_point()
    hole = centre.buffer(0.2, cap_style="square")
    hole = hole if Polygon(corners).contains(hole) else None
    whole = Polygon(corners)
    return {
        "outline": corners,
        "hole": [list(c) for c in hole.exterior.coords[:-1]] if hole else [],
        "height": height,
        "walls": walls,
        "ceiling": whole.difference(hole).area if hole else whole.area,
    }


print(
    json.dumps(
        {
            "unit": "metres and square metres",
            "function": "shapely Polygon.difference, unary_union, LineString.project",
            "version": shapely.__version__,
            "seed": 20251125,
            "rooms": [room() for _ in range(ROOMS)],
        }
    )
)
