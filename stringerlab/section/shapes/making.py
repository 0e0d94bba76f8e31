"""Walls, fills and laps of a shape put together, with everything that forbids it said at once. mm, degrees.

Coats lie on one another: the next one's line is the far face of the one before it, shorter at its ends by a
step, so that a thickness tapers off by whole coats. Around a fillet of eight chords the far face is no fillet
itself, so the next coat's radius is a hair larger than concentric: a gap of at most 0.02 of its thickness.
"""

from collections.abc import Generator, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from itertools import pairwise
from math import atan2, pi, radians, tan

from stringerlab.errors import Problem, StringerlabError
from stringerlab.geometry.chords import CHORDS
from stringerlab.geometry.fillet import rounded
from stringerlab.laminate.records import PlyNumbers, Role, Stack
from stringerlab.section.checks import problems
from stringerlab.section.records import Fill, FillShape, OnHull, Point, SectionShape, Side, Wall, WallShape
from stringerlab.section.shapes.fitting import misfits, negative, not_positive
from stringerlab.section.shapes.records import Drawn, Laid

FURTHEST = 10_000.0
"""A section's points lie within so much of its origin [mm]."""
MOST_COATS = 8


@dataclass(slots=True)
class Making:
    """A shape being made; nothing of it is handed on before all of it is sound."""

    where: str
    """The shape's name, for a person."""
    bead: float = 0.0
    deadrise: float = 0.0
    walls: list[Wall] = field(default_factory=list[Wall])
    fills: list[Fill] = field(default_factory=list[Fill])
    laps: list[tuple[str, str]] = field(default_factory=list[tuple[str, str]])
    wrong: list[Problem] = field(default_factory=list[Problem])
    laid: dict[str, Laid] = field(default_factory=dict[str, Laid])

    # -- what is asked -------------------------------------------------------------------------------------

    def lengths(self, **values: float) -> None:
        """Hold lengths to be above 0."""
        self.wrong += not_positive(self.where, _named(values))

    def none_below_0(self, **values: float) -> None:
        """Hold lengths to be 0 or more."""
        self.wrong += negative(self.where, _named(values))

    def coats(self, of: str, count: float, least: int = 0) -> None:
        """Hold a number of coats to be one."""
        if not (least <= count <= MOST_COATS and count == int(count)):
            self.say(
                f"{count:g} is not a whole number from {least} to {MOST_COATS}.",
                f"{of} coats",
                "Give how many coats lie on one another.",
            )

    def at_most(self, name: str, value: float, most: float, of: str) -> None:
        """Hold a length to what it has room in."""
        if value > most:
            self.say(f"{value:g} mm is more than {of} has: {most:.4g} mm.", name, "Make it less.")

    def say(self, what: str, place: str, remedy: str) -> None:
        """Note what is wrong."""
        self.wrong.append(Problem(what, f"{self.where}, {place}", remedy))

    @contextmanager
    def gathering(self) -> Generator[None]:
        """Note what another shape finds wrong, as of this one."""
        try:
            yield
        except StringerlabError as error:
            for problem in error.problems:
                _, _, place = problem.where.partition(", ")
                self.wrong.append(Problem(problem.what, f"{self.where}, {place}", problem.remedy))

    def refuse(self) -> None:
        """Raise with everything wrong so far.

        Raises
        ------
        StringerlabError
            When there is something.
        """
        if self.wrong:
            raise StringerlabError(dict.fromkeys(self.wrong))

    # -- what is drawn -------------------------------------------------------------------------------------

    def put(self, wall: Wall, laid: Laid) -> str:
        """Add a wall; return its id."""
        id_ = f"w{len(self.walls) + 1}"
        self.walls.append(replace(wall, id=id_))
        self.laid[id_] = laid
        return id_

    def wall(
        self,
        name: str,
        points: Sequence[Point],
        fillets: Sequence[float],
        side: Side,
        laid: Laid,
        legs: Sequence[str],
        *,
        on_hull: OnHull | None = None,
    ) -> str:
        """Add a wall once its fillets fit and its laminate does not fold; return its id."""
        self.wrong += misfits(self.where, tuple(points), tuple(fillets), tuple(legs), side, laid.thickness)
        wall = Wall(
            id="",
            points=tuple(points),
            laminate=laid.laminate,
            side=side,
            fillets=tuple(fillets) if any(fillets) else (),
            name=name,
            on_hull=on_hull,
        )
        return self.put(wall, laid)

    def fill(self, name: str, points: Sequence[Point], material: str) -> None:
        """Add a fill."""
        self.fills.append(
            Fill(id=f"f{len(self.fills) + 1}", points=tuple(points), material=material, name=name)
        )

    def caps(
        self,
        name: str,
        *,
        under: str,
        level: float,
        room: float,
        coat: Laid,
        width: float,
        coats: int,
        step: float,
    ) -> None:
        """Add coats under a level face, each narrower than the one above it.

        Parameters
        ----------
        name
            Of the coats.
        under
            Id of the wall whose face they lie under.
        level
            Height of that face [mm].
        room
            Its width [mm].
        coat, width, coats, step
            Laminate of each, width of the first, how many, and how much shorter each is at each edge [mm].
        """
        if coats:
            self.at_most("cap width", width, room, "the flat inside of the crown")
        for number in range(int(coats)):
            half, z = width / 2 - number * step, level - number * coat.thickness
            if half <= 0:
                self.say(f"coat {number + 1} has no width left.", "cap step", "Make the step less.")
                return
            label = name if coats == 1 else f"{name} {number + 1}"
            over = under
            under = self.wall(label, ((-half, z), (half, z)), (0.0, 0.0), Side.RIGHT, coat, ("cap",))
            self.laps.append((over, under))

    def tabs(
        self,
        line: Sequence[Point],
        radii: Sequence[float],
        coat: Laid,
        coats: int,
        step: float,
        legs: Sequence[str],
    ) -> None:
        """Add tabs left and right of the centre plane, coat on coat, building to the left of the line given.

        Parameters
        ----------
        line
            Face of the right tab's first coat: down the plate, out along the shell.
        radii
            One a point of it.
        coat
            Laminate of a coat.
        coats, step
            How many, and by how much each ends short of the one below it at each edge [mm].
        legs
            What the line's legs are called.
        """
        for side in ("right", "left"):
            points, fillets, below = tuple(line), tuple(radii), ""
            for number in range(int(coats)):
                if number:
                    fillets = _next_radii(points, fillets, coat.thickness)
                    shorter = _shorter(moved_left(points, coat.thickness), step)
                    if shorter is None:
                        self.say(f"coat {number + 1} has no length left.", "tab step", "Make the step less.")
                        break
                    points = shorter
                label = f"{side} tab" if coats == 1 else f"{side} tab, coat {number + 1}"
                drawn = points if side == "right" else mirrored(points)
                turned = fillets if side == "right" else fillets[::-1]
                named = legs if side == "right" else legs[::-1]
                here = self.wall(label, drawn, turned, Side.LEFT, coat, named)
                if below:
                    self.laps.append((below, here))
                below = here

    def putty_under(
        self, line: tuple[Point, Point, Point], radii: tuple[float, float, float], of: str
    ) -> None:
        """Fill the corner of a right tab, and of its image, to the chords of its fillet."""
        if radii[1] > 0:
            arc = [(float(y), float(z)) for y, z in rounded(line, radii)[1:-1]]
            outline = (line[1], *reversed(arc))
            self.fill("right putty", outline, of)
            self.fill("left putty", mirrored(outline), of)

    def drawn(self) -> Drawn:
        """Return the shape.

        Raises
        ------
        StringerlabError
            When something is wrong with it: parts that overlap or reach into the shell, most of all.
        """
        points = [point for wall in self.walls for point in wall.points]
        reach = max((abs(each) for point in points for each in point), default=0.0)
        if reach > FURTHEST:
            what = f"it reaches {reach:.5g} mm out, more than {FURTHEST:.5g} mm."
            self.say(what, "size", "Make it smaller.")
        self.refuse()
        shape = SectionShape(
            name=self.where,
            walls=tuple(_plain(wall, self.laid[wall.id].thickness) for wall in self.walls),
            fills=tuple(
                FillShape(
                    id=fill.id, points=fill.points, name=fill.name, density=1.0, modulus=0.0, strength=None
                )
                for fill in self.fills
            ),
            laps=tuple(self.laps),
            bead=self.bead,
        )
        names = {f"wall '{wall.id}'": wall.name for wall in self.walls}
        names |= {f"fill '{fill.id}'": fill.name for fill in self.fills}
        for problem in problems(shape, radians(self.deadrise)):
            part = problem.where.removeprefix(f"section '{self.where}'").removeprefix(", ")
            what = problem.what
            for said, name in names.items():
                what, part = what.replace(said, f"the {name}"), part.replace(said, name)
            self.say(what, part, "Change the sizes so that its parts clear one another and the shell.")
        self.refuse()
        return Drawn(tuple(self.walls), tuple(self.fills), tuple(self.laps))


def mirrored(points: Sequence[Point]) -> tuple[Point, ...]:
    """Points left for right, in an order that keeps the laminate on its side of the line."""
    return tuple((-y, z) for y, z in reversed(points))


def moved_left(points: Sequence[Point], distance: float) -> tuple[Point, ...]:
    """Return an open line moved to its left by a distance [mm], corners mitred."""
    line = [complex(*point) for point in points]
    ways = [(b - a) / abs(b - a) for a, b in pairwise(line)]
    found: list[Point] = []
    for index, point in enumerate(line):
        before, after = ways[max(index - 1, 0)], ways[min(index, len(ways) - 1)]
        normal = 1j * (before + after)
        moved = point + distance * normal / (normal * (1j * before).conjugate()).real
        found.append((moved.real, moved.imag))
    return tuple(found)


def _shorter(points: Sequence[Point], step: float) -> tuple[Point, ...] | None:
    """Return a line that ends a step short at each end; None where an end's leg is no longer than that."""
    line = [complex(*point) for point in points]
    first, last = line[1] - line[0], line[-2] - line[-1]
    if min(abs(first), abs(last)) <= step:
        return None
    line[0] += step * first / abs(first)
    line[-1] += step * last / abs(last)
    return tuple((point.real, point.imag) for point in line)


def _next_radii(points: Sequence[Point], radii: Sequence[float], thickness: float) -> tuple[float, ...]:
    """Return the radii of a line that lies on a laminate of a thickness, on the inside of its bends."""
    return (0.0, *(_resting(a, b, c, radius, thickness) for (a, b, c), radius in _bends(points, radii)), 0.0)


def _bends(
    points: Sequence[Point], radii: Sequence[float]
) -> Iterator[tuple[tuple[Point, Point, Point], float]]:
    yield from zip(zip(points, points[1:], points[2:], strict=False), radii[1:-1], strict=True)


def _resting(before: Point, corner: Point, after: Point, radius: float, thickness: float) -> float:
    if radius <= 0:
        return 0.0
    turn = atan2(after[1] - corner[1], after[0] - corner[0]) - atan2(
        corner[1] - before[1], corner[0] - before[0]
    )
    turn = abs((turn + pi) % (2 * pi) - pi)
    if turn < 1e-6:
        return radius
    # Concentric, the far face's first vertex would lie beyond the next line's: so much more clears it.
    return max(radius - thickness * (1 - tan(turn / 4 / CHORDS) / tan(turn / 2)), 0.0)


def _named(values: dict[str, float]) -> dict[str, float]:
    return {name.replace("_", " "): value for name, value in values.items()}


def _plain(wall: Wall, thickness: float) -> WallShape:
    """Return a wall with a laminate of which only the thickness matters."""
    ply = PlyNumbers(
        name="ply",
        role=Role.REINFORCED,
        kind=None,
        angle=0.0,
        thickness=thickness,
        mass=1.0,
        dry_weight=1.0,
        glass=0.3,
        E1=1.0,
        E2=1.0,
        G12=1.0,
        nu12=0.3,
        tension_1=None,
        compression_1=None,
        tension_2=None,
        compression_2=None,
        shear=None,
        flexural=None,
        interlaminar=None,
        marks=(),
    )
    return WallShape(
        id=wall.id,
        points=wall.points,
        fillets=wall.fillets,
        side=wall.side,
        closed=wall.closed,
        stack=Stack(name="shape", plies=(ply,)),
    )
