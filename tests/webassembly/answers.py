"""What two builds of the engine may differ in, and where two answers differ.

Words, ids and their order have to be the same; numbers may differ by 1e-9 of their size
(docs/decisions/006-same-numbers-everywhere.md: exp and log may round differently), and by 1e-9 of their unit: that is how
far the engine itself answers for a voltage (src/circuit/solve.hpp, voltage_tolerance).
"""
import math
import re

RELATIVE, ABSOLUTE = 1e-9, 1e-9
NUMBER = re.compile(r"(?<![\w.])-?\d+(?:\.\d+)?(?:[eE][-+]?\d+)?")


def words_and_numbers(text):
    """A text as the words between its numbers, and the numbers."""
    return NUMBER.sub("#", text), [float(number) for number in NUMBER.findall(text)]


def close(one, other):
    return one == other or math.isclose(one, other, rel_tol=RELATIVE, abs_tol=ABSOLUTE)


def differences(one, other, place=""):
    """Where two JSON values differ, as readable lines. Keys are compared in their order."""
    if isinstance(one, dict) and isinstance(other, dict):
        if list(one) != list(other):
            yield f"{place}: keys {list(one)} / {list(other)}"
            return
        for key in one:
            yield from differences(one[key], other[key], f"{place}/{key}")
    elif isinstance(one, list) and isinstance(other, list):
        if len(one) != len(other):
            yield f"{place}: {len(one)} / {len(other)} items"
            return
        for index, (a, b) in enumerate(zip(one, other)):
            yield from differences(a, b, f"{place}/{index}")
    elif isinstance(one, (int, float)) and isinstance(other, (int, float)) and not isinstance(one, bool):
        if not close(one, other):
            yield f"{place}: {one!r} / {other!r}"
    elif one != other or type(one) is not type(other):
        yield f"{place}: {one!r} / {other!r}"


def differences_of_lines(one, other):
    one, other = one.splitlines(), other.splitlines()
    if len(one) != len(other):
        yield f"{len(one)} / {len(other)} lines"
    for number, (a, b) in enumerate(zip(one, other), 1):
        (words_a, numbers_a), (words_b, numbers_b) = words_and_numbers(a), words_and_numbers(b)
        if words_a != words_b or not all(map(close, numbers_a, numbers_b)):
            yield f"line {number}: {a!r} / {b!r}"
