"""Two sets of materials into one: what is new, what is the same, what is in conflict, and how it was settled.

Nothing is guessed: while a conflict is unsettled there is no merged set. Materials meet by their ids.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from difflib import get_close_matches
from enum import StrEnum
from typing import Any

from stringerlab.errors import Problem, StringerlabError
from stringerlab.materials.book import AnyMaterial, Book, every
from stringerlab.materials.checks import material_problems
from stringerlab.materials.differences import Difference, differences, label
from stringerlab.materials.reading import ROWS
from stringerlab.materials.records import Materials, Reinforcement

_FIELDS: Mapping[type, str] = {cls: field for field, cls in ROWS.values()}


class Choice(StrEnum):
    """How a conflict is settled."""

    MINE = "mine"
    """Mine stays; theirs is left out."""
    THEIRS = "theirs"
    """Theirs takes the place of mine: all that names it has theirs from then."""
    BOTH = "both"
    """Mine stays; theirs comes in under a new id, and what comes in with it names that id."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Conflict:
    """One id, two materials that differ."""

    mine: AnyMaterial
    theirs: AnyMaterial
    own: bool
    """Whether ``mine`` is of my own set; otherwise it is of a set behind it, such as the shipped book."""
    differences: tuple[Difference, ...]
    new_id: str
    """The id theirs has when both are kept."""

    @property
    def id(self) -> str:
        """The id both have."""
        return self.mine.id


@dataclass(frozen=True, slots=True, kw_only=True)
class Merge:
    """What becomes of each of their materials, in the order of their set."""

    mine: Materials
    theirs: Materials
    behind: tuple[Materials, ...] = ()
    added: tuple[AnyMaterial, ...] = ()
    """Theirs that I have not: they come in."""
    same: tuple[AnyMaterial, ...] = ()
    """Theirs that I have, equal in every field: nothing to do."""
    conflicts: tuple[Conflict, ...] = ()
    renamed: tuple[tuple[str, str], ...] = ()
    """Of the added: an id that something else than a material has already, and the new id in its place."""


def merge(
    mine: Materials, theirs: Materials, *behind: Materials, taken: Collection[str] = frozenset()
) -> Merge:
    """Return what a merge of two sets comes to, and what in it must be settled.

    Parameters
    ----------
    mine
        The set that receives.
    theirs
        The set that comes in.
    behind
        Sets that stand behind mine, such as the shipped book: what comes in under an id of theirs would
        take its place, so one that differs is a conflict too.
    taken
        Ids of other things, which no material may come in under.

    Raises
    ------
    StringerlabError
        When an id stands twice in one of the two sets.
    """
    twice = [*_given_twice(mine, "mine"), *_given_twice(theirs, "theirs")]
    if twice:
        raise StringerlabError(twice)
    own = {material.id: material for material in every(mine)}
    book = Book.of(mine, *behind)
    used = {*taken, *book.ids(), *(material.id for material in every(theirs))}
    added: list[AnyMaterial] = []
    same: list[AnyMaterial] = []
    conflicts: list[Conflict] = []
    renamed: list[tuple[str, str]] = []
    for material in every(theirs):
        held = book.find(material.id)
        if held is None:
            added.append(material)
            if material.id in taken:
                renamed.append((material.id, _new_id(material.id, used)))
        elif held == material:
            same.append(material)
        else:
            conflict = Conflict(
                mine=held,
                theirs=material,
                own=material.id in own,
                differences=differences(held, material),
                new_id=_new_id(material.id, used),
            )
            conflicts.append(conflict)
    return Merge(
        mine=mine,
        theirs=theirs,
        behind=behind,
        added=tuple(added),
        same=tuple(same),
        conflicts=tuple(conflicts),
        renamed=tuple(renamed),
    )


def settled(merge: Merge, choices: Mapping[str, Choice]) -> Materials:
    """Return the merged set.

    A reinforcement that comes in names the fibre and resin it came with, under their new ids where they
    have any; one that both sets have alike stays with mine.

    Parameters
    ----------
    merge
        As `merge` found it.
    choices
        For each conflict, by id, which is kept.

    Raises
    ------
    StringerlabError
        When a conflict is not settled, a choice is for no conflict, or a reference would name nothing:
        everything listed.
    """
    _refuse_unsettled(merge, choices)
    ids = dict(merge.renamed)
    ids |= {one.id: one.new_id for one in merge.conflicts if choices[one.id] is Choice.BOTH}
    replacing = {
        one.id: one.theirs
        for one in merge.conflicts
        if one.own and choices[one.id] is Choice.THEIRS and type(one.mine) is type(one.theirs)
    }
    dropped = {
        one.id for one in merge.conflicts if one.own and choices[one.id] is Choice.THEIRS
    } - replacing.keys()
    kept = [
        _following(replacing[one.id], ids, one.id) if one.id in replacing else one
        for one in every(merge.mine)
        if one.id not in dropped
    ]
    coming = {one.id for one in merge.added} | {
        one.id for one in merge.conflicts if choices[one.id] is not Choice.MINE and one.id not in replacing
    }
    fresh = [_following(one, ids, ids.get(one.id, one.id)) for one in every(merge.theirs) if one.id in coming]
    result = gathered([*kept, *fresh])
    before = set(material_problems(merge.mine, *merge.behind))
    wrong = [one for one in material_problems(result, *merge.behind) if one not in before]
    if wrong:
        raise StringerlabError(wrong)
    return result


def gathered(materials: Iterable[AnyMaterial]) -> Materials:
    """Return materials as a set, each kind in the order given."""
    held: dict[str, list[Any]] = {field: [] for field in _FIELDS.values()}
    for material in materials:
        held[_FIELDS[type(material)]].append(material)
    return Materials(**{field: tuple(records) for field, records in held.items()})


def with_needs(ids: Collection[str], *sets: Materials) -> Materials:
    """Return the materials of these ids, and the fibres and resins their reinforcements name.

    Parameters
    ----------
    ids
        Of what is wanted.
    sets
        Where to look, the first first.

    Raises
    ------
    StringerlabError
        When there is no material of an id, or a reinforcement names what is not there: all listed.
    """
    book = Book.of(*sets)
    problems: list[Problem] = []
    wanted = dict.fromkeys(ids)
    for id_ in ids:
        material = book.find(id_)
        if material is None:
            near = get_close_matches(id_, book.ids(), n=1)
            remedy = f"Did you mean '{near[0]}'?" if near else "Give the id of one that is there."
            problems.append(Problem(f"There is no material '{id_}'.", "materials", remedy))
        elif isinstance(material, Reinforcement):
            wanted |= dict.fromkeys((material.fibre, material.resin))
            problems += _missing(material, book)
    if problems:
        raise StringerlabError(problems)
    seen: dict[str, AnyMaterial] = {}
    for material in (one for held in sets for one in every(held)):
        if material.id in wanted:
            seen.setdefault(material.id, material)
    return gathered(seen.values())


def _missing(material: Reinforcement, book: Book) -> Iterator[Problem]:
    for kind, named, found in (
        ("fibre", material.fibre, book.fibre(material.fibre)),
        ("resin", material.resin, book.resin(material.resin)),
    ):
        if found is None:
            yield Problem(
                f"there is no {kind} '{named}'.", f"{label(material)}, {kind}", "Name one that is there."
            )


def _following(material: AnyMaterial, ids: Mapping[str, str], id_: str) -> AnyMaterial:
    """Return a material that comes in, under its id there, naming what came with it."""
    if isinstance(material, Reinforcement):
        fibre, resin = ids.get(material.fibre, material.fibre), ids.get(material.resin, material.resin)
        return replace(material, id=id_, fibre=fibre, resin=resin)
    return replace(material, id=id_)


def _refuse_unsettled(merge: Merge, choices: Mapping[str, Choice]) -> None:
    problems: list[Problem] = []
    for conflict in merge.conflicts:
        if conflict.id not in choices:
            fields = ", ".join(one.field for one in conflict.differences)
            what = f"mine and theirs differ in: {fields}."
            problems.append(Problem(what, label(conflict.mine), "Choose mine, theirs or both."))
    known = {conflict.id for conflict in merge.conflicts}
    problems += [
        Problem(f"There is no conflict over '{id_}'.", "choices", "Leave it out.")
        for id_ in choices
        if id_ not in known
    ]
    if problems:
        raise StringerlabError(problems)


def _given_twice(materials: Materials, whose: str) -> Iterator[Problem]:
    seen: set[str] = set()
    for material in every(materials):
        if material.id in seen:
            what = f"its id stands twice in {whose}."
            yield Problem(what, label(material), "Give each material an id of its own first.")
        seen.add(material.id)


def _new_id(id_: str, used: set[str]) -> str:
    number = 2
    while f"{id_}_{number}" in used:
        number += 1
    used.add(f"{id_}_{number}")
    return f"{id_}_{number}"
