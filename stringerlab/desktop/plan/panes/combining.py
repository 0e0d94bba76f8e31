"""Combinations of loads in words and back: ``slam + 1.5 × Fuel tank``. No Qt."""

import re
from collections.abc import Callable

from stringerlab.desktop.models.subject_field import Field
from stringerlab.errors import Problem, StringerlabError
from stringerlab.layout.plan import Combination, Layout, Part, Source

_TIMES = re.compile(r"^([-−]?\d+(?:[.,]\d+)?)\s*[×x*]\s*(.+)$")
WITHOUT = (
    "Without combinations of its own a layout has: every slam patch alone; every load of equipment alone, "
    "a gyro's torque either way; all weights at rest, and with every slam patch."
)


def words_of(combination: Combination, layout: Layout | None) -> str:
    """Return a combination's parts in words."""
    names = _names(layout)
    said: list[str] = []
    for part in combination.parts:
        name = names.get(part.of, str(part.of))
        said.append(name if part.factor == 1 else f"{part.factor:g} × {name}".replace("-", "−"))
    return " + ".join(said)


def parts_of(words: str, layout: Layout | None) -> tuple[Part, ...]:
    """Return the parts that words mean.

    Raises
    ------
    StringerlabError
        With everything that is no load of the layout.
    """
    names = _names(layout)
    ids = {name.casefold(): id_ for id_, name in names.items()} | {id_: id_ for id_ in names}
    ids |= {source.value: source.value for source in Source}
    parts: list[Part] = []
    wrong: list[Problem] = []
    for piece in (each.strip() for each in words.split(" + ")):
        found = _TIMES.match(piece)
        factor, name = (
            (float(found[1].replace("−", "-").replace(",", ".")), found[2]) if found else (1.0, piece)
        )
        of = ids.get(name.strip().casefold())
        if of is None:
            own = (
                each.name if names[each.id] == each.name else f"{each.id} ({each.name})"
                for each in (layout.equipment if layout else ())
            )
            offered = ", ".join([*(source.value for source in Source), *own])
            wrong.append(Problem(f"'{name}' is no load of this layout.", remedy=f"There is: {offered}."))
        else:
            parts.append(Part(of=of, factor=factor))
    if wrong:
        raise StringerlabError(wrong)
    return tuple(parts)


def _names(layout: Layout | None) -> dict[str, str]:
    """Return what equipment is called in combinations, by id: its id where its name would be misread."""
    things = layout.equipment if layout else ()
    held = [source.value for source in Source] + [thing.name.casefold() for thing in things]
    return {
        thing.id: thing.name
        if held.count(thing.name.casefold()) == 1 and " + " not in thing.name and not _TIMES.match(thing.name)
        else thing.id
        for thing in things
    }


def combination_fields(layout: Callable[[], Layout | None]) -> tuple[Field, ...]:
    """Return the columns of the table of combinations of a layout that may change."""

    def with_words(combination: Combination, words: str) -> Combination:
        parts = parts_of(words, layout())
        return Combination(id=combination.id, name=combination.name, parts=parts)

    return (
        Field(key="name", title="combination", meaning="What it is called", width=130),
        Field(
            key="parts",
            title="loads",
            meaning="What acts together: loads parted by ' + ', a factor before ×, as: slam + 1.5 × gyro",
            width=280,
            held=lambda combination: words_of(combination, layout()),
            with_value=with_words,
        ),
    )
