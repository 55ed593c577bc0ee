"""The commands of start.py and their arguments."""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
from collections.abc import Mapping, Sequence

from house import changelog, needs, pins, setup, testing, wheel
from house.places import ROOT, program
from house.say import Missing, can_write_everything, line
from house.stages import exit_code, run_stages, summary

FORWARDING = {"demo": "hoopwright demo", "serve": "hoopwright serve", "soak": "pytest", "bench": "pytest"}


def parser() -> argparse.ArgumentParser:
    """The command line of start.py."""
    top = argparse.ArgumentParser(
        prog="start.py",
        description="Set up hoopwright in this folder (.venv, nothing outside) and do one thing. "
        "Written for Linux, macOS and Windows; tried on Linux only.",
    )
    top.add_argument("--version", action="version", version=testing.python_line())
    commands = top.add_subparsers(dest="command", required=True, metavar="COMMAND")
    commands.add_parser("demo", help="plan the demo liner (further options go to `hoopwright demo`)")
    test = commands.add_parser("test", help="lint, types, import contract, docs, examples, all tests, wheel")
    test.add_argument("--only", action="append", default=[], metavar="STAGE", help="run this stage only (repeatable)")
    commands.add_parser("check", help="build the wheel, try it in a throw-away environment, print sizes")
    docs = commands.add_parser("docs", help="write generated pages and schemas anew")
    docs.add_argument("--check", action="store_true", help="only say whether they are fresh")
    commands.add_parser("bench", help="run the benchmarks (further options go to pytest)")
    commands.add_parser("soak", help="run the long tests (further options go to pytest)")
    commands.add_parser("serve", help="open the page (further options go to `hoopwright serve`)")
    joined = commands.add_parser("changelog", help="join the change fragments into CHANGELOG.md")
    joined.add_argument("release", metavar="VERSION")
    pinned = commands.add_parser("pins", help="write the requirement files anew from pyproject.toml")
    pinned.add_argument("--upgrade", action="store_true", help="take the newest versions that pyproject.toml allows")
    return top


def parse(arguments: Sequence[str]) -> tuple[argparse.Namespace, list[str]]:
    """Known arguments and those to hand on; a command that hands nothing on refuses what it does not know."""
    top = parser()
    known, rest = top.parse_known_args(arguments)
    if rest and known.command not in FORWARDING:
        top.error(f"{known.command} does not know {' '.join(rest)}")
    return known, rest


def hoopwright(*arguments: str) -> int:
    """Run the installed command in the folder the person stands in; its exit code."""
    return subprocess.run([str(program("hoopwright")), *arguments], check=False).returncode


def serve(rest: Sequence[str]) -> int:
    """Open the page, where this version has one."""
    command = str(program("hoopwright"))
    if subprocess.run([command, "serve", "--help"], capture_output=True, check=False).returncode:
        whole = subprocess.run([command, "--help"], capture_output=True, text=True, check=False)
        if whole.returncode:
            raise Missing(f"hoopwright does not start:\n{whole.stderr}", "run `python3 start.py test` to see why")
        raise Missing("the page is not built yet: this version has no `hoopwright serve`.", "use `start.py demo`")
    return hoopwright("serve", *rest)


def test(only: Sequence[str]) -> int:
    """Everything that has to pass."""
    needs.ensure()
    setup.ensure("dev")

    def run(env: Mapping[str, str]) -> int:
        outcomes = run_stages(testing.choose(testing.test_stages(env, ()), only))
        line(summary(outcomes))
        return exit_code(outcomes)

    return testing.with_kernel_cache(run)


def docs(only_check: bool) -> int:
    """Write, or only check, what is generated."""
    setup.ensure("dev")
    flag = ["--check"] if only_check else []
    return setup.run([program("python"), "docs/generate.py", *flag])


def carry_out(known: argparse.Namespace, rest: Sequence[str]) -> int:
    """Carry out one command; its exit code."""
    match known.command:
        case "demo":
            setup.ensure("runtime")
            return hoopwright("demo", *rest)
        case "serve":
            setup.ensure("runtime")
            return serve(rest)
        case "test":
            return test(known.only)
        case "check":
            setup.ensure("dev")
            return 0 if wheel.check() else 1
        case "docs":
            return docs(known.check)
        case "bench" | "soak":
            needs.ensure()
            setup.ensure("dev")
            return testing.bench(rest) if known.command == "bench" else testing.soak(rest)
        case "changelog":
            return 0 if changelog.join(ROOT, known.release) else 1
        case _:
            setup.ensure("dev")
            pins.write(known.upgrade)
            return 0


def main(arguments: Sequence[str]) -> int:
    """Parse, carry out, and say plainly what is missing; 2 where something is."""
    can_write_everything()
    known, rest = parse(arguments)
    os.environ.setdefault("PYTHONUTF8", "1")
    try:
        return carry_out(known, rest)
    except (Missing, ValueError) as stopped:
        print(f"start.py: {stopped}", file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        print("start.py: stopped by the keyboard", file=sys.stderr)
        return 130
