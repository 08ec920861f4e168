"""Free floor and walking width of random rooms, computed with shapely, for tests/space_reference.rs.

Run: python space.py > space.json      (shapely 2.2, numpy 2.4; the versions used stand in the file)

The rooms are in inches: a rectangle or an L, a door in its south wall, rectangles at any angle and circles inside, a goal that
stands free. The walls are thin. The free floor is the room less the union of the bodies. The walking width is found by
bisection: the plane less walls and bodies is eroded by half a width (round), and start (outside the door) and goal must lie in
one piece of what is left. That is another way than ours, which joins the nearest pairs of obstacles until a ring closes.
"""

import json
import math
import random
import sys

import numpy
import shapely
from shapely import affinity
from shapely.geometry import LineString, Point, Polygon, box
from shapely.ops import unary_union

SEGMENTS = 128


def outline(rng):
    width, depth = rng.randint(96, 200), rng.randint(96, 180)
    if rng.random() < 0.5:
        return [(0, 0), (width, 0), (width, depth), (0, depth)]
    x, y = rng.randint(48, width - 30), rng.randint(48, depth - 30)
    return [(0, 0), (width, 0), (width, y), (x, y), (x, depth), (0, depth)]


def body(rng, room):
    for _ in range(60):
        x, y = rng.uniform(0, 200), rng.uniform(0, 180)
        if rng.random() < 0.3:
            radius = round(rng.uniform(5, 14), 2)
            shape, given = Point(x, y).buffer(radius, quad_segs=SEGMENTS), {"circle": [x, y, radius]}
        else:
            w, d = round(rng.uniform(6, 36), 2), round(rng.uniform(6, 30), 2)
            turn = rng.choice([0, 0, 0, 90, rng.uniform(0, 180)])
            shape = affinity.translate(affinity.rotate(box(-w / 2, -d / 2, w / 2, d / 2), turn, origin=(0, 0)), x, y)
            given = {"corners": [list(corner) for corner in list(shape.exterior.coords)[:4]]}
        if room.contains(shape):
            return shape, given
    return None


def width(room, door, bodies, goal):
    ring = list(room.exterior.coords)
    south = [LineString([(0, 0), (door[0], 0)]), LineString([(door[1], 0), ring[1]])]
    walls = south + [LineString([a, b]) for a, b in zip(ring[1:], ring[2:])]
    solid = unary_union([wall.buffer(1e-5, quad_segs=4) for wall in walls] + bodies)
    (x0, y0, x1, y1), start = room.bounds, Point((door[0] + door[1]) / 2, -200)
    plane = box(x0 - 400, y0 - 400, x1 + 400, y1 + 400).difference(solid)

    def passes(wide):
        left = plane.buffer(-wide / 2, quad_segs=SEGMENTS)
        pieces = list(left.geoms) if hasattr(left, "geoms") else [left]
        return any(piece.intersects(start) and piece.intersects(goal) for piece in pieces)

    low, high = 0.0, 200.0
    if not passes(1e-3):
        return 0.0
    while high - low > 2e-4:
        middle = (low + high) / 2
        low, high = (middle, high) if passes(middle) else (low, middle)
    return low


def main():
    rooms = []
    for seed in range(240):
        rng = random.Random(seed)
        corners = outline(rng)
        room = Polygon(corners)
        clear = rng.uniform(22, 42)
        left = rng.uniform(4, corners[1][0] - clear - 4)
        door = [left, left + clear]
        made = [one for one in (body(rng, room) for _ in range(rng.randint(2, 11))) if one]
        shapes = [shape for shape, _ in made]
        covered = unary_union(shapes)
        goal = None
        for _ in range(200):
            at = Point(rng.uniform(0, 200), rng.uniform(0, 180))
            if room.contains(at) and not covered.intersects(at) and at.y > 24:
                goal = at
                break
        if goal is None:
            continue
        rooms.append({
            "seed": seed,
            "outline": corners,
            "door": door,
            "bodies": [given for _, given in made],
            "goal": [goal.x, goal.y],
            "free_area": room.difference(covered).area,
            "width": width(room, door, shapes, goal),
        })
    versions = {"python": sys.version.split()[0], "shapely": shapely.__version__, "geos": shapely.geos_version_string,
                "numpy": numpy.__version__}
    print(json.dumps({"by": "reference/space.py", "unit": "inch", "versions": versions, "rooms": rooms}, indent=None,
                     separators=(",", ":")).replace('{"seed"', '\n{"seed"'))


main()
