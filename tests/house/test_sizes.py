"""The size report measures what it says and marks what is past its limit."""

from __future__ import annotations

import ast
from pathlib import Path

from house.sizes import Sizes, function_lines, measure, nearest_rank, report


def test_nearest_rank() -> None:
    values = [5, 1, 4, 2, 3]
    assert [nearest_rank(values, share) for share in (0.0, 0.2, 0.5, 0.9, 1.0)] == [1, 1, 3, 5, 5]
    assert nearest_rank([], 0.5) == 0


def lines(text: str) -> int:
    node = ast.parse(text).body[0]
    assert isinstance(node, ast.FunctionDef)
    return function_lines(node)


def test_docstring_does_not_count() -> None:
    assert lines("def f():\n    return 1\n") == 2
    assert lines('def f():\n    """One.\n\n    Two.\n    """\n    return 1\n') == 2
    assert lines('def f():\n    """Only this."""\n') == 1


def test_folder_is_measured(tmp_path: Path) -> None:
    (tmp_path / "room").mkdir()
    (tmp_path / "room" / "one.py").write_text("def f():\n    return 1\n\nclass A:\n    def g(self):\n        pass\n")
    sizes = measure(tmp_path)
    assert sizes.files == (("room/one.py", 6),)
    assert sorted(sizes.functions) == [("room/one.py:1 f", 2), ("room/one.py:5 g", 2)]


def test_within_the_limits_nothing_is_marked() -> None:
    text = report(Sizes((("a.py", 100), ("b.py", 120)), (("a.py:1 f", 5),) * 20), 3)
    assert "past the limit" not in text
    assert "names in `import hoopwright`  3 (limit 12)" in text


def test_past_the_limits_everything_is_marked() -> None:
    text = report(Sizes((("a.py", 700),), (("a.py:1 f", 80),)), 13)
    assert text.count("past the limit") == 6
    assert "a.py" in text.splitlines()[3]
    assert "      80  a.py:1 f" in text
