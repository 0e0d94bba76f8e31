"""A point as a person types it while drawing: absolute, relative, by length and angle, or by length alone.

``120; 45`` from the origin; ``@30; 10`` from the last point; ``80 < 30`` a length at an angle in degrees from
y towards z; ``80`` a length the way the pointer shows. Lengths may carry units. A semicolon parts two numbers
(``3,5; 4,25``), or a comma and a space (``3,5, 4,25``). One comma between digits is a decimal comma (``3,5``)
except after ``@``, where a length alone means nothing, or where a number has a decimal point. mm.
"""

import re
from math import cos, hypot, isfinite, sin

from stringerlab.errors import Problem, StringerlabError
from stringerlab.units import Kind, System, parse

Point = tuple[float, float]

WHERE = "typed point"
HOW = "Type a length, length<angle, @y;z from the last point, or y;z from the origin."
_DECIMAL = re.compile(r"[-+−]?\d+,\d+[^\d.]*")
"""One number with a decimal comma, and a unit."""
FARTHEST = 10_000.0
"""How far from the origin a section may reach [mm]."""


def typed_point(
    text: str,
    last: Point | None = None,
    system: System = System.METRIC,
    toward: Point | None = None,
    *,
    farthest: float = FARTHEST,
    axes: str = "y;z",
) -> Point:
    """Return the point that is typed [mm].

    Parameters
    ----------
    text
        What is typed.
    last
        The point drawn last; None when there is none [mm].
    system
        Units of bare numbers.
    toward
        Where the pointer is: it gives a bare length its direction from the last point [mm].
    farthest
        How far from the origin the drawing reaches [mm].
    axes
        What its coordinates are called.

    Raises
    ------
    StringerlabError
        When it does not read, or goes on from a point that is not there.
    """
    bare = text.strip()
    relative = bare.startswith("@")
    bare = bare.removeprefix("@").strip()
    if not bare:
        raise _refused("Nothing is typed.", HOW.replace("y;z", axes))
    if "<" in bare:
        point = _polar(bare, text, _needed(last, axes), system)
    else:
        parts = _parts(bare, text, relative=relative)
        values = [_length(part, system) for part in parts]
        if len(values) == 2:
            base = _needed(last, axes) if relative else (0.0, 0.0)
            point = (base[0] + values[0], base[1] + values[1])
        else:
            point = _onward(values[0], _needed(last, axes), toward)
    if not all(isfinite(value) and abs(value) <= farthest for value in point):
        reach = f"It reaches {farthest / 1000:g} m each way."
        raise _refused(f"'{text.strip()}' lies outside the drawing.", reach)
    return point


def typed_angle(text: str) -> float:
    """Return an angle that is typed, in degrees where it has no unit [rad].

    Raises
    ------
    StringerlabError
        When it does not read.
    """
    try:
        return parse(text, Kind.ANGLE)
    except StringerlabError as error:
        raise _refused(f"'{text.strip()}' is no angle.", "Type degrees, as 30 or −7,5.") from error


def _polar(bare: str, text: str, last: Point, system: System) -> Point:
    length_text, *angles = bare.split("<")
    if len(angles) != 1 or not length_text.strip() or not angles[0].strip():
        raise _refused(f"'{text.strip()}' is not a length and an angle.", "Type them as 80 < 30.")
    length = _length(length_text, system)
    try:
        angle = parse(angles[0], Kind.ANGLE, system)
    except StringerlabError as error:
        raise _placed(error) from None
    return last[0] + length * cos(angle), last[1] + length * sin(angle)


def _onward(length: float, last: Point, toward: Point | None) -> Point:
    way = (toward[0] - last[0], toward[1] - last[1]) if toward else (0.0, 0.0)
    size = hypot(*way)
    if size < 1e-9:
        raise _refused(
            "A length alone goes the way the pointer shows, and it shows none.",
            "Move the pointer off the last point, or type length < angle.",
        )
    return last[0] + length * way[0] / size, last[1] + length * way[1] / size


def _parts(bare: str, text: str, *, relative: bool) -> list[str]:
    if ";" in bare:
        parts = bare.split(";")
    elif bare.count(",") == 1 and not relative and _DECIMAL.fullmatch(bare):
        parts = [bare]
    elif bare.count(",") == 1:
        parts = bare.split(",")
    elif "," in bare:
        # Several commas: decimal ones stand within a number, the one that parts stands before a space.
        parts = bare.split(", ")
    else:
        parts = [bare]
    if len(parts) > 2 or not all(part.strip() for part in parts):
        raise _refused(
            f"'{text.strip()}' is not two coordinates.",
            "Part them with one comma, or with a semicolon where commas are decimals: 3,5; 4,25.",
        )
    if len(parts) == 1 and bare.count(",") > 1:
        raise _refused(
            f"In '{text.strip()}' it is not clear which comma parts the coordinates.",
            "Part them with a semicolon: 3,5; 4,25.",
        )
    return parts


def _length(text: str, system: System) -> float:
    try:
        return parse(text, Kind.LENGTH, system)
    except StringerlabError as error:
        raise _placed(error) from None


def _needed(last: Point | None, axes: str) -> Point:
    if last is None:
        raise _refused("There is no point to go on from yet.", f"Type the first one as {axes}.")
    return last


def _placed(error: StringerlabError) -> StringerlabError:
    return StringerlabError(
        Problem(problem.what, problem.where or WHERE, problem.remedy or HOW) for problem in error.problems
    )


def _refused(what: str, remedy: str) -> StringerlabError:
    return StringerlabError(Problem(what, WHERE, remedy))
