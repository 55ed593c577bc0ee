"""Reading a figure's formula as arithmetic: tokens parted by spaces, trigonometry in degrees, neighbours multiplied.

Returns None for a formula that is no plain arithmetic: an equation that was solved, a choice in words, a sum over
stations.
"""

from __future__ import annotations

import math
import re

from hoopwright.findings import Figure

FUNCTIONS = {
    "sin": lambda x: math.sin(math.radians(x)),
    "cos": lambda x: math.cos(math.radians(x)),
    "tan": lambda x: math.tan(math.radians(x)),
    "atan": lambda x: math.degrees(math.atan(x)),
    "exp": math.exp,
    "ln": math.log,
    "sqrt": math.sqrt,
}
POWERS = {"²": "2", "³": "3"}
SIGNS = {"+", "-", "/", "^"}
NUMBER = re.compile(r"\d+(\.\d+)?$")


def value_of(figure: Figure) -> float | None:
    """The formula with the inputs' numbers in it, worked out; None where it is no plain arithmetic."""
    known = {given.symbol: given.value for given in figure.inputs if not isinstance(given.value, str)}
    source: list[str] = []
    after_value = False
    for token in _spelt_out(figure.formula).split():
        word, is_value = _word(token, known)
        if word is None:
            return None
        opens = is_value or token == "(" or token in FUNCTIONS
        if after_value and opens:
            source.append("*")
        source.append(word)
        after_value = is_value or token == ")"
    names = {f"f_{name}": function for name, function in FUNCTIONS.items()}
    return float(eval(_functions_closed(source), {"__builtins__": {}}, names))


def _spelt_out(formula: str) -> str:
    """Signs of one character as words: roots, squares, cubes, powers of ten."""
    text = formula.replace("√(", "sqrt (").replace("1e9", "1000000000")
    for sign, power in POWERS.items():
        text = text.replace(sign, f"^ {power}")
    return text


def _word(token: str, known: dict[str, float]) -> tuple[str | None, bool]:
    if token in known:
        return repr(float(known[token])), True
    if token in ("pi", "π"):
        return repr(math.pi), True
    if token == "½":
        return "0.5", True
    if NUMBER.match(token):
        return token, True
    if token in FUNCTIONS:
        return f"f_{token}", False
    if token in SIGNS:
        return "**" if token == "^" else token, False
    if token in ("(", ")"):
        return token, False
    return None, False


def _functions_closed(words: list[str]) -> str:
    """`tan a` without brackets becomes `tan(a)`."""
    out: list[str] = []
    k = 0
    while k < len(words):
        if words[k].startswith("f_") and k + 1 < len(words) and words[k + 1] not in ("(", "*"):
            out.append(f"{words[k]}({words[k + 1]})")
            k += 2
        elif words[k].startswith("f_") and words[k + 1] == "*":
            # "sin ( ... )" was parted by a product sign, or "tan a": take the sign out again
            words.pop(k + 1)
        else:
            out.append(words[k])
            k += 1
    return " ".join(out)
