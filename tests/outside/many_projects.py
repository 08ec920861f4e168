"""Many projects through the Python module and Dask in local mode, against the program asked one file at a time.

    python tests/outside/many_projects.py PROGRAM

Needs Dask (PyPI: dask[bag]); says what it checked, and fails with the reason where something differs.
"""

import collections
import json
import os
import pathlib
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "engine/python/src"), str(ROOT / "examples/many-projects")]
os.environ["REDTAG_PROGRAM"] = str(pathlib.Path(sys.argv[1]).resolve())
os.environ["PYTHONPATH"] = os.pathsep.join(sys.path[:2])

import redtag  # noqa: E402
import stock  # noqa: E402

HOMES = 60


def one_by_one(lines):
    """The same homes as files of one ordinary run."""
    with tempfile.TemporaryDirectory() as folder:
        files = []
        for number, line in enumerate(lines):
            files.append(f"{number:04}.json")
            pathlib.Path(folder, files[-1]).write_text(line)
        command = [os.environ["REDTAG_PROGRAM"], "review", "--format", "json-lean", *files]
        report = json.loads(subprocess.run(command, cwd=folder, capture_output=True, check=False).stdout)
    return report["reviews"], report["refused"]


def main():
    lines = [stock.home(number) for number in range(HOMES)]
    answers = list(redtag.reviews(lines))
    reviewed, refused = one_by_one(lines)
    assert len(answers) == HOMES, len(answers)
    streamed = [answer["review"] for answer in answers if "review" in answer]
    assert len(streamed) == len(reviewed) and len(answers) - len(streamed) == len(refused) > 0
    for left, right in zip(streamed, reviewed):
        assert left.pop("file") != right.pop("file") and left == right, (left, right)
    where = [number for number, answer in enumerate(answers) if "refused" in answer]
    assert where == [number for number in range(HOMES) if number % 50 == 49], where
    assert [answers[number]["refused"]["file"] for number in where] == [f"line {number + 1}" for number in where]

    # A home that is no JSON, an empty one and one with line breaks each get their own answer in their own place.
    odd = ["{", "", json.dumps(json.loads(lines[0]), indent=2), {"schema": 1, "name": "as data"}, b'{"schema": 1}']
    kinds = [next(iter(answer)) for answer in redtag.reviews(odd)]
    assert kinds == ["refused", "refused", "review", "review", "review"], kinds

    # Whoever stops reading stops the worker; a program that does not start says why.
    some = redtag.reviews(stock.home(number) for number in range(10_000_000))
    next(some)
    some.close()
    try:
        list(redtag.reviews(lines, arguments=("--packs", "nowhere")))
        raise AssertionError("packs that are not there were taken")
    except redtag.Failed as error:
        assert "nowhere" in str(error), error

    said = subprocess.run([sys.executable, str(ROOT / "examples/many-projects/stock.py"), str(HOMES)], capture_output=True, text=True, check=True).stdout
    tally = collections.Counter({what: int(number) for number, what in (line.split(maxsplit=1) for line in said.splitlines())})
    assert (tally["reviewed"], tally["refused"]) == (len(reviewed), len(refused)), said
    assert tally["unresolved"] == sum(review["counts"]["unresolved"] for review in reviewed), said
    corrections = sum(number for what, number in tally.items() if what.startswith("correction "))
    assert corrections == sum(len(review["corrections"]) for review in reviewed), said
    print(f"{HOMES} homes: as lines, as files and through Dask the same")


if __name__ == "__main__":
    main()
