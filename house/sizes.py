"""The size report: how long files and functions are, against the limits this project holds itself to."""

from __future__ import annotations

import ast
import math
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

FILE_MEDIAN, FILE_P90, FILE_TOP = 150, 400, 600
FUNCTION_MEDIAN, FUNCTION_TOP, FUNCTION_TOP_SHARE_PCT = 10, 50, 5.0
NAMES_TOP = 12


@dataclass(frozen=True, slots=True)
class Sizes:
    """Lengths of files [lines] and of functions without their docstring [lines], each with its name."""

    files: tuple[tuple[str, int], ...]
    functions: tuple[tuple[str, int], ...]


def nearest_rank(values: Sequence[int], share: float) -> int:
    """Percentile by the nearest rank; 0 of nothing."""
    if not values:
        return 0
    return sorted(values)[max(0, math.ceil(share * len(values)) - 1)]


def function_lines(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Lines of a function from `def` to its end, without its docstring."""
    end = node.end_lineno or node.lineno
    whole = end - node.lineno + 1
    first = node.body[0]
    if ast.get_docstring(node, clean=False) is not None and first.end_lineno is not None:
        whole -= first.end_lineno - first.lineno + 1
    return whole


def measure(folder: Path) -> Sizes:
    """Sizes of every Python file under a folder."""
    files, functions = [], []
    for path in sorted(folder.rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        name = path.relative_to(folder).as_posix()
        files.append((name, len(text.splitlines())))
        for node in ast.walk(ast.parse(text)):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                functions.append((f"{name}:{node.lineno} {node.name}", function_lines(node)))
    return Sizes(tuple(files), tuple(functions))


def report(sizes: Sizes, top_level_names: int) -> str:
    """The report as text; a figure past its limit is marked."""

    def against(value: float, limit: float, text: str) -> str:
        return f"{text}{'' if value <= limit else '   <- past the limit'}"

    files = [lines for _, lines in sizes.files]
    functions = [lines for _, lines in sizes.functions]
    long_files = [name for name, lines in sizes.files if lines > FILE_TOP]
    long_functions = sorted(((n, x) for x, n in sizes.functions if n > FUNCTION_TOP), reverse=True)
    share = 100.0 * len(long_functions) / len(functions) if functions else 0.0
    file_median, file_p90, fn_median = (
        nearest_rank(files, 0.5),
        nearest_rank(files, 0.9),
        nearest_rank(functions, 0.5),
    )
    rows = [
        f"  files      {len(files)}",
        against(file_median, FILE_MEDIAN, f"    median   {file_median} lines (limit {FILE_MEDIAN})"),
        against(file_p90, FILE_P90, f"    p90      {file_p90} lines (limit {FILE_P90})"),
        against(len(long_files), 0, f"    over {FILE_TOP} {len(long_files)} (limit 0){': ' if long_files else ''}")
        + ", ".join(long_files),
        f"  functions  {len(functions)}",
        against(fn_median, FUNCTION_MEDIAN, f"    median   {fn_median} lines (limit {FUNCTION_MEDIAN})"),
        against(
            share,
            FUNCTION_TOP_SHARE_PCT,
            f"    over {FUNCTION_TOP}  {len(long_functions)}, {share:.1f} % (limit {FUNCTION_TOP_SHARE_PCT:g} %)",
        ),
        *(f"      {lines:4d}  {name}" for lines, name in long_functions[:5]),
        against(top_level_names, NAMES_TOP, f"  names in `import hoopwright`  {top_level_names} (limit {NAMES_TOP})"),
    ]
    return "\n".join(rows)
