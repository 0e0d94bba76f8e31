"""What is typed on the plan: a point, a length, a count. No Qt."""

from stringerlab.desktop.sheet.tool import Place
from stringerlab.errors import StringerlabError
from stringerlab.geometry.typed import typed_point
from stringerlab.units import Kind, System, parse

FARTHEST = 60_000.0
"""How far from the origin a plan reaches [mm]."""
HOW = "Type a length, length<angle, @x;y from the last point, or x;y from the transom's middle."


def place_typed(text: str, last: Place | None, system: System, toward: Place | None) -> Place | str:
    """Return the place that was typed, or why it does not read."""
    try:
        return typed_point(text, last, system, toward, farthest=FARTHEST, axes="x;y")
    except StringerlabError as error:
        return str(error.problems[0])


def length_typed(text: str, system: System) -> float | str:
    """Return a length that was typed [mm], or why it does not read."""
    bare = text.strip()
    back = bare[:1] in {"-", "−"}
    try:
        value = parse(bare.lstrip("-−"), Kind.LENGTH, system)
    except StringerlabError as error:
        return str(error.problems[0])
    return -value if back else value


def count_typed(text: str) -> int | str:
    """Return a count that was typed, or why it does not read."""
    bare = text.strip()
    if not bare.isdecimal():
        return f"'{bare}' is no count: type how many, as 3."
    return int(bare)
