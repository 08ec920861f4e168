"""Very many projects: lines in, answers out, through the redtag program.

One function serves a notebook, a script and every distributed engine that maps over partitions: `reviews` takes an iterable
of project documents and yields an answer for each, in the same order. An answer is a dict with one key: ``review`` (a lean
review) or ``refused`` (why the project could not be reviewed); `redtag schema review-stream` prints its JSON Schema.

redtag advises; the authority having jurisdiction decides.
"""

import json
import os
import shutil
import subprocess
import sysconfig
import threading

__all__ = ["Failed", "program", "reviews"]


class Failed(RuntimeError):
    """The program ended before every project had its answer."""


def program():
    """The program: REDTAG_PROGRAM, else the one this wheel brought, else the one on the path."""
    named = os.environ.get("REDTAG_PROGRAM")
    if named:
        return named
    brought = os.path.join(sysconfig.get_path("scripts"), "redtag")
    found = brought if os.access(brought, os.X_OK) else shutil.which("redtag")
    if found is None:
        raise FileNotFoundError("the redtag program is not installed: install its wheel, or name it in REDTAG_PROGRAM")
    return found


def _line(project):
    """A project as one line: text as it is written (a line break between values is no more than a space), or data."""
    if isinstance(project, bytes):
        project = project.decode("utf-8")
    text = project if isinstance(project, str) else json.dumps(project)
    line = " ".join(text.splitlines())
    # An empty line would have no answer, and every later answer would be taken for another project's.
    return (line if line.strip() else "null") + "\n"


def reviews(projects, arguments=("--no-answers",)):
    """Yields an answer for each project, in order, holding no more than a few projects at a time.

    `projects` are JSON texts, bytes or dicts; `arguments` go to ``redtag review --stream``, such as ``("--packs", "county")``.
    """
    command = [program(), "review", "--stream", *arguments]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as worker:
        told, fed, trouble = [], [], []
        listen = threading.Thread(target=lambda: told.append(worker.stderr.read()), daemon=True)

        def feed():
            try:
                for project in projects:
                    fed.append(None)
                    worker.stdin.write(_line(project).encode("utf-8"))
                    worker.stdin.flush()
            except BrokenPipeError:
                pass
            except Exception as error:  # Whatever the iterable raises belongs to whoever reads the answers.
                trouble.append(error)
            finally:
                try:
                    worker.stdin.close()
                except BrokenPipeError:
                    pass

        feeder = threading.Thread(target=feed, daemon=True)
        listen.start()
        feeder.start()
        answered = 0
        try:
            for line in worker.stdout:
                answered += 1
                yield json.loads(line)
        except GeneratorExit:
            worker.kill()
            # The feeder notices the broken pipe, unless it waits for the next project: then nobody else closes it.
            feeder.join(timeout=1)
            try:
                worker.stdin.close()
            except (BrokenPipeError, ValueError):
                pass
            raise
        feeder.join()
        worker.wait()
        listen.join()
        if trouble:
            raise trouble[0]
        if answered != len(fed):
            words = told[0].decode("utf-8", "replace").strip() if told else ""
            raise Failed(f"{answered} of {len(fed)} projects were answered: {words or worker.returncode}")
