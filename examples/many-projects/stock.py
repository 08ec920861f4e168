"""A stock of invented homes reviewed by Dask in local mode: which rules ask for most corrections, and what was refused.

    python examples/many-projects/stock.py [HOMES] [-- ARGUMENTS FOR redtag review --stream]

Every home, name and figure here is invented.
"""

import functools
import json
import sys
from collections import Counter

import dask
import dask.bag

import redtag

INPUTS = ["40,000 Btu/h", "60,000 Btu/h", "80,000 Btu/h", "100,000 Btu/h"]


def home(number):
    """A thin file, as an assessor's record would give it: a furnace, a water heater, where they stand."""
    kind = ["mechanical-room", "equipment-closet", "sleeping-room", "attached-garage"][number % 4]
    home = {
        "schema": 1,
        "name": f"Home {number} of Tern Street",
        "application_date": "2025-03-14",
        "site": {"elevation": f"{100 + number % 7 * 900} ft"},
        "spaces": [{"id": "room", "kind": kind, "ceiling_height": "8 ft", "floor_area": f"{30 + number % 5 * 20} ft2"}],
        "equipment": [
            {
                "id": "furnace",
                "kind": "furnace",
                "space": "room",
                "fuel_burning": {"plate": {"fuel": "natural-gas", "input": INPUTS[number % 4]}},
            },
        ],
    }
    # Records have slips: every fiftieth home has a room of a kind there is not. It is refused, by name, and stops no other.
    if number % 50 == 49:
        home["spaces"][0]["kind"] = "boiler-hall"
    return json.dumps(home)


def count(answers):
    """What a partition comes to: small enough to send home, however many homes it had."""
    tally = Counter()
    for answer in answers:
        review = answer.get("review")
        if review is None:
            tally["refused"] += 1
            continue
        tally["reviewed"] += 1
        tally["unresolved"] += review["counts"]["unresolved"]
        tally.update(f"correction {one['rule']}" for one in review["corrections"])
    return [tally]


def main(homes, arguments):
    review = functools.partial(redtag.reviews, arguments=("--no-answers", *arguments))
    stock = dask.bag.from_sequence(range(homes), npartitions=4).map(home)
    with dask.config.set(scheduler="processes", num_workers=2):
        tallies = stock.map_partitions(review).map_partitions(count).compute()
    for what, number in sorted(sum(tallies, Counter()).items(), key=lambda item: (-item[1], item[0])):
        print(f"{number:8} {what}")


if __name__ == "__main__":
    own, _, rest = " ".join(sys.argv[1:]).partition("--")
    main(int(own.split()[0]) if own.split() else 200, rest.split())
