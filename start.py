#!/usr/bin/env python3
"""The one command of this repository: `python3 start.py demo` (or test, check, docs, bench, soak, serve).

Standard library only. This file keeps to syntax that very old interpreters can read, so that they can be told what
is missing instead of showing a syntax error; the work is done in the folder `house`.
Written for Linux, macOS and Windows. Tried on Linux only.
"""

import os
import subprocess
import sys

NEEDED = (3, 11)


def newer_pythons():
    """Names of newer interpreters on the search path that really start."""
    found = []
    for minor in range(20, NEEDED[1] - 1, -1):
        name = "python3.%d" % minor
        folders = os.environ.get("PATH", "").split(os.pathsep)
        if any(os.path.exists(os.path.join(folder, name + end)) for folder in folders for end in ("", ".exe")):
            try:
                pipe = subprocess.Popen([name, "-c", "pass"], stdout=subprocess.PIPE, stderr=subprocess.PIPE)
            except OSError:
                continue
            pipe.communicate()
            if pipe.returncode == 0:
                found.append(name)
    return found


def too_old(version):
    """What a person reads when the interpreter is too old."""
    found = newer_pythons()
    remedy = "run: %s start.py" % found[0] if found else "install Python 3.11 or newer and run start.py with it"
    return "Python %d.%d is too old: hoopwright needs 3.11 or newer.\n  Do: %s\n" % (version[0], version[1], remedy)


if sys.version_info[:2] < NEEDED:
    sys.stderr.write(too_old(sys.version_info))
    sys.exit(2)

if __name__ == "__main__":
    sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
    from house.commands import main

    sys.exit(main(sys.argv[1:]))
