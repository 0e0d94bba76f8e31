"""Wishes as typed on the command line: what may change, must hold, scatters, is read off. mm, kn, kg.

A name is an id or a unique name; several are parted by commas. Everything wrong is told at once.
"""

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TypeVar

from stringerlab.cli.named import Named, one_named
from stringerlab.errors import Problem, StringerlabError
from stringerlab.methods import Aspect
from stringerlab.project import Project, book_of, resolve
from stringerlab.project.wish_words import typed_unit
from stringerlab.project.wishes import (
    Aim,
    Change,
    Demand,
    Holds,
    Law,
    Number,
    Plies,
    Reading,
    Scatter,
    Scattered,
    Shown,
)
from stringerlab.units import System, Unit, parse, unit_named
from stringerlab.units.ranges import range_problems

CHANGES = {
    "height": Change.HEIGHT,
    "crown": Change.CROWN_WIDTH,
    "flange": Change.FLANGE_WIDTH,
    "bead": Change.BEAD,
    "layers": Change.REPEATS,
    "place": Change.PLACE,
    "transverses": Change.TRANSVERSES,
    "spacing": Change.SPACING,
    "length": Change.LENGTH,
    "speed": Change.SPEED,
    "displacement": Change.MASS,
}
AIMS = {
    "mass": Aim.MASS,
    "cost": Aim.COST,
    "labour": Aim.LABOUR,
    "mix": Aim.MIX,
    "utilisation": Aim.USE,
}
SPREADS = {
    "thickness": Scattered.THICKNESS,
    "glass": Scattered.GLASS,
    "modulus": Scattered.MODULUS,
    "strength": Scattered.STRENGTH,
    "bead": Scattered.BEAD,
    "speed": Scattered.SPEED,
}
_OF_SECTIONS = {Change.HEIGHT, Change.CROWN_WIDTH, Change.FLANGE_WIDTH, Change.BEAD}
_VALUES = 3
"""Of a number that may change: least, most, step."""
_ASPECTS = tuple(aspect.value for aspect in Aspect)
_COUNTED = re.compile(r"(?P<least>\d+)(?:\s*(?:to|-|–)\s*(?P<most>\d+))?$")
_PART = re.compile(r"(?P<word>keep|end)\s+(?P<count>\d+)$")

Wish = TypeVar("Wish")


def each(option: str, texts: Iterable[str], read: Callable[[str, str], Wish]) -> tuple[Wish, ...]:
    """Return what every text of an option says; ``read`` takes a text and an id.

    Raises
    ------
    StringerlabError
        With what is wrong with any of them, and which it is.
    """
    found, wrong = gathered(option, texts, read)
    if wrong:
        raise StringerlabError(wrong)
    return found


def gathered(
    option: str, texts: Iterable[str], read: Callable[[str, str], Wish]
) -> tuple[tuple[Wish, ...], list[Problem]]:
    """Return what the texts of an option say as far as nothing is wrong, and what is wrong with which."""
    found: list[Wish] = []
    wrong: list[Problem] = []
    for number, text in enumerate(texts, start=1):
        try:
            wish = read(text, f"{option} {number}")
        except StringerlabError as error:
            amiss = list(error.problems)
        else:
            amiss = range_problems(wish, option)
            found += [] if amiss else [wish]
        wrong += [Problem(one.what, f"{option} '{text}'", one.remedy) for one in amiss]
    return tuple(found), wrong


def number_read(project: Project, text: str, id: str) -> Number:  # noqa: A002
    """Return ``height Main stringer 100 160 10``: what, whose, least, most and step.

    Raises
    ------
    StringerlabError
        When it does not say so, or what it names is not there.
    """
    first, _, rest = text.strip().partition(" ")
    change = _choice(first, CHANGES, "what may change")
    words = rest.split()
    if len(words) < _VALUES:
        raise _wrong(
            "It does not give least, most and step.",
            f"Write, as an example: {first} NAME 100 160 10." if change not in _BOAT else f"{first} 20 30 1.",
        )
    unit = typed_unit(change)
    least, most, step = (_figure(word, unit) for word in words[-_VALUES:])
    names = " ".join(words[:-_VALUES]).removeprefix("of ")
    ply = 0
    if change is Change.REPEATS:
        names, _, counted = names.rpartition(":")
        if not (names and counted.strip().isdecimal()):
            raise _wrong(
                "It does not say which ply.", "Write NAME:PLY, counted from the mould: layers Bottom:3 1 4 1."
            )
        ply = int(counted)
    return Number(
        id=id,
        change=change,
        of=_belonging(project, change, names),
        ply=ply,
        least=least,
        most=most,
        step=step,
    )


_BOAT = {Change.SPEED, Change.MASS}


def _belonging(project: Project, change: Change, names: str) -> tuple[str, ...]:
    if change in _BOAT:
        if names:
            raise _wrong(f"The {change} is the boat's.", f"Leave out '{names}'.")
        return ()
    if change in _OF_SECTIONS:
        return _named(project.sections, names, "section")
    if change is Change.REPEATS:
        return _named(project.laminates, names, "laminate")
    if change in {Change.PLACE, Change.TRANSVERSES}:
        used = [layout for layout in project.layouts if layout.id == project.layout]
        return _named([one for layout in used for one in layout.members], names, "member")
    return _named((*project.spans, *project.panels), names, "span or panel")


def plies_read(project: Project, text: str, id: str) -> Plies:  # noqa: A002
    """Return ``Stringer: csm450 wr600, 3 to 7, keep 1, end 1, gauge 4``: laminate, menu, count, what stays.

    ``any order`` lets fabrics face each other without mat between.

    Raises
    ------
    StringerlabError
        When it does not say so, or what it names is not there.
    """
    name, colon, rest = text.rpartition(":")
    if not colon:
        raise _wrong("It does not say which laminate.", "Write LAMINATE: MATERIALS, 3 to 7.")
    laminate = one_named(project.laminates, name.strip(), "laminate")
    menu, *said = (part.strip() for part in rest.split(","))
    least, most, kept, ended, between = 1, 6, 0, 0, True
    gauge: float | None = None
    for part in filter(None, said):
        if counted := _COUNTED.match(part):
            least = int(counted["least"])
            most = int(counted["most"] or least)
        elif stays := _PART.match(part):
            kept, ended = (
                (int(stays["count"]), ended) if stays["word"] == "keep" else (kept, int(stays["count"]))
            )
        elif part.startswith("gauge "):
            gauge = _figure(part.removeprefix("gauge ").replace(" ", ""), unit_named("mm"))
        elif part == "any order":
            between = False
        else:
            raise _wrong(
                f"'{part}' is not understood.",
                "After the menu may stand: 3 to 7; keep 1; end 1; gauge 4; any order.",
            )
    return Plies(
        id=id,
        laminate=laminate.id,
        menu=tuple(_materials(project, menu.split())),
        least=least,
        most=most,
        kept=kept,
        ended=ended,
        mat_between=between,
        gauge=gauge,
    )


def _materials(project: Project, words: Iterable[str]) -> Iterator[str]:
    """Yield ids; a material's letters may be written small or large."""
    ids = {one.lower(): one for one in book_of(project).ids()}
    for word in words:
        yield ids.get(word.lower(), word)


def demand_read(project: Project, text: str, id: str) -> Demand:  # noqa: A002
    """Return ``utilisation web area of Main stringer 0.9``, ``deflection 1/200``, ``height 150``.

    Raises
    ------
    StringerlabError
        When it does not say so, or what it names is not there.
    """
    first, _, rest = text.strip().partition(" ")
    holds = _choice(first, {one.value: one for one in Holds}, "what must hold")
    words = rest.split()
    if not words:
        raise _wrong(
            "It gives no limit.", "Write, as examples: utilisation 0.9; deflection 1/200; height 150."
        )
    limit = _figure(words[-1], unit_named("mm" if holds is Holds.HEIGHT else ""))
    aspect, names = _parted(" ".join(words[:-1]), aspects=holds is Holds.USE)
    of: tuple[str, ...] = ()
    if names:
        of = (
            _named(project.sections, names, "section")
            if holds is Holds.HEIGHT
            else _named(resolve(project).subjects, names, "panel or span")
        )
    return Demand(id=id, holds=holds, limit=limit, aspect=aspect, of=of)


def reading_read(project: Project, text: str, _id: str) -> Reading:
    """Return ``utilisation``, ``utilisation web area of Main stringer``, ``mass``, ``cost``, ``labour``.

    Raises
    ------
    StringerlabError
        When it does not say so, or what it names is not there.
    """
    first, _, rest = text.strip().partition(" ")
    shown = _choice(first, {one.value: one for one in Shown}, "what is shown")
    if shown is not Shown.USE and rest.strip():
        raise _wrong(f"The {shown} is the boat's.", f"Leave out '{rest.strip()}'.")
    aspect, name = _parted(rest.strip(), aspects=shown is Shown.USE)
    subject = one_named(resolve(project).subjects, name, "panel or span").id if name else ""
    return Reading(shown=shown, subject=subject, aspect=aspect)


def scatter_read(project: Project, text: str, id: str) -> Scatter:  # noqa: A002
    """Return ``thickness 0.07 normal of Bottom``: what, its spread, its law, whose.

    Raises
    ------
    StringerlabError
        When it does not say so, or what it names is not there.
    """
    said, _, names = text.partition(" of ")
    first, *words = said.split() or [""]
    what = _choice(first, SPREADS, "what scatters")
    if not words:
        raise _wrong("It gives no spread.", f"Write, as an example: {first} 0.07 normal.")
    law = _choice(words[1], {one.value: one for one in Law}, "law") if words[1:] else Law.NORMAL
    if words[2:]:
        raise _wrong(
            f"'{' '.join(words[2:])}' is not understood.", f"Write, as an example: {first} 0.07 normal."
        )
    of: tuple[str, ...] = ()
    if names.strip():
        if what is Scattered.SPEED:
            raise _wrong("The speed is the boat's.", f"Leave out 'of {names.strip()}'.")
        of = (
            _named(project.sections, names, "section")
            if what is Scattered.BEAD
            else _named(project.laminates, names, "laminate")
        )
    return Scatter(id=id, what=what, law=law, spread=_figure(words[0], unit_named("")), of=of)


def _parted(text: str, *, aspects: bool) -> tuple[str, str]:
    """Return the aspect and the names of ``web area of Main stringer``."""
    aspect, _, names = f" {text}".partition(" of ")
    aspect = aspect.strip()
    if aspect and not aspects:
        raise _wrong(f"'{aspect}' is not understood.", "Write 'of NAME' for whose it is.")
    if aspect and aspect not in _ASPECTS:
        raise _wrong(f"There is no aspect '{aspect}'.", f"There is: {', '.join(_ASPECTS)}.")
    return aspect, names.strip()


def _named(records: Sequence[Named], names: str, kind: str) -> tuple[str, ...]:
    """Return the ids of what is named: of one whose name has a comma, or of several."""
    whole = names.strip()
    if any(whole in (record.id, record.name) for record in records):
        return (one_named(records, whole, kind).id,)
    if not whole:
        raise _wrong(f"It names no {kind}.", "Write its name before the numbers.")
    return tuple(one_named(records, name.strip(), kind).id for name in whole.split(","))


def _choice(word: str, choices: dict[str, Wish], kind: str) -> Wish:
    found = choices.get(word)
    if found is None:
        raise _wrong(f"'{word}' is not {kind}.", f"Begin with one of: {', '.join(choices)}.")
    return found


def _figure(word: str, unit: Unit) -> float:
    """Return a number as the file would hold it; it may have a unit of its own, or be a fraction."""
    try:
        return float(word.replace(",", "."))
    except ValueError:
        pass
    if not unit.symbol and (fraction := re.fullmatch(r"(\d+)/([1-9]\d*)", word)):
        return int(fraction[1]) / int(fraction[2])
    return float(f"{parse(word, unit.kind, System.METRIC) / unit.factor:.15g}")


def _wrong(what: str, remedy: str) -> StringerlabError:
    return StringerlabError(Problem(what, remedy=remedy))
