"""What is typed while drawing: a length, a length and an angle, or a point. No Qt.

``120`` goes on towards the pointer; ``120<30`` at 30° from the level, counter-clockwise; ``@40;20`` from the
last point; ``40;20`` from the origin. Each length may carry its unit. A comma is a decimal comma, so a
semicolon parts two numbers, or one comma after ``@`` where there is no other.
"""

import re
from dataclasses import dataclass
from math import atan2, cos, degrees, hypot, radians, sin

from stringerlab.errors import Problem, StringerlabError
from stringerlab.units import Kind, System, parse

Place = tuple[float, float]

HOW = "Type a length, length<angle, @y;z from the last point, or y;z."
STARTS = frozenset("0123456789.@-−+")
"""A key that begins typing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Typed:
    """What was typed: ``length`` with or without ``angle`` [mm, rad], or a ``point`` [mm]."""

    length: float | None = None
    angle: float | None = None
    point: Place | None = None
    relative: bool = False

    def reached(self, last: Place | None, pointer: Place) -> Place:
        """Return the point meant, going on from the last one, towards the pointer where no angle is given.

        Raises
        ------
        StringerlabError
            When there is no last point to go on from, or the pointer lies on it.
        """
        if self.point is not None and not self.relative:
            return self.point
        if last is None:
            raise StringerlabError(
                Problem("There is no point to measure from yet.", remedy="Type the first one as y;z.")
            )
        if self.point is not None:
            return last[0] + self.point[0], last[1] + self.point[1]
        angle, length = self.angle, self.length or 0.0
        if angle is None:
            if hypot(pointer[0] - last[0], pointer[1] - last[1]) < 1e-9:
                raise StringerlabError(
                    Problem("The pointer shows no direction.", remedy="Move it, or type length<angle.")
                )
            angle = atan2(pointer[1] - last[1], pointer[0] - last[0])
        return last[0] + length * cos(angle), last[1] + length * sin(angle)


def read(text: str, system: System) -> Typed:
    """Return what a text means.

    Raises
    ------
    StringerlabError
        When it does not read, with how to type it.
    """
    bare = text.strip().replace("−", "-")
    try:
        relative = bare.startswith("@")
        bare = bare.removeprefix("@").strip()
        if "<" in bare:
            length, angle = bare.split("<")
            return Typed(length=parse(length, Kind.LENGTH, system), angle=_angle(angle), relative=relative)
        if ";" in bare:
            y, z = bare.split(";")
        elif relative:
            y, z = _parted(bare)
        else:
            return Typed(length=parse(bare, Kind.LENGTH, system))
        point = parse(y, Kind.LENGTH, system), parse(z, Kind.LENGTH, system)
        return Typed(point=point, relative=relative)
    except (ValueError, StringerlabError) as error:
        raise StringerlabError(Problem(f"'{text.strip()}' does not read.", remedy=HOW)) from error


def _parted(text: str) -> tuple[str, str]:
    y, z = text.split(",") if text.count(",") == 1 else text.split()
    return y, z


def read_angle(text: str) -> float:
    """Return a typed angle [rad].

    Raises
    ------
    StringerlabError
        When it does not read.
    """
    try:
        return _angle(text.replace("−", "-"))
    except ValueError as error:
        problem = Problem(f"'{text.strip()}' is no angle.", remedy="Type degrees, as 30 or −7,5.")
        raise StringerlabError(problem) from error


def _angle(text: str) -> float:
    number = re.sub(r"(°|deg)\s*$", "", text.strip()).replace(",", ".")
    return radians(float(number))


def polar(start: Place, end: Place) -> tuple[float, float]:
    """Return length [mm] and angle [deg, within ±180] from one point to another."""
    return hypot(end[0] - start[0], end[1] - start[1]), degrees(atan2(end[1] - start[1], end[0] - start[0]))
