"""New ids for everything in a layout, what refers to one another following."""

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Any, TypeVar

from stringerlab.layout.plan import Cavity, Combination, Equipment, Layout, Member, PlanLine, SpanMark
from stringerlab.project.counting import LETTERS, Counter

_T = TypeVar("_T", Member, PlanLine, Cavity, Equipment, Combination)
_KEY = re.compile(r"([^@:/#']+)(.*)")
_ID = re.compile(r"(\D*)(\d*)(.*)")


def with_ids_in_layout(layout: Layout, counter: Counter, *, only_blank: bool = False) -> Layout:
    """Return a layout with all that is in it, marks too, under new ids.

    Parameters
    ----------
    layout
        The layout; its own id stays.
    counter
        Hands out ids.
    only_blank
        Give ids only to what has none.
    """

    def fresh(record: Any) -> str:
        return record.id if only_blank and record.id.strip() else counter.id(LETTERS[type(record)])

    def renewed(records: tuple[_T, ...]) -> tuple[_T, ...]:
        return tuple(replace(record, id=fresh(record)) for record in records)

    members, lines = renewed(layout.members), renewed(layout.lines)
    equipment = renewed(layout.equipment)
    now = {
        before.id: after.id
        for held, made in (
            (layout.members, members),
            (layout.lines, lines),
            (layout.equipment, equipment),
        )
        for before, after in zip(held, made, strict=True)
        if before.id.strip()
    }
    return replace(
        layout,
        members=members,
        lines=lines,
        cavities=renewed(layout.cavities),
        equipment=equipment,
        combinations=tuple(
            replace(one, parts=tuple(replace(part, of=now.get(part.of, part.of)) for part in one.parts))
            for one in renewed(layout.combinations)
        ),
        bays=tuple(replace(mark, id=fresh(mark)) for mark in layout.bays),
        spans=tuple(mark_renamed(mark, now, fresh(mark)) for mark in layout.spans),
    )


def mark_renamed(mark: SpanMark, now: Mapping[str, str], id_: str) -> SpanMark:
    """Return a span's mark under an id, its member and those it meets called as they are now."""
    first, second = mark.between
    return replace(
        mark,
        id=id_,
        member=now.get(mark.member, mark.member),
        between=(_key(first, now), _key(second, now)),
        parent=mark.parent if id_ == mark.id else "",
    )


def _key(key: str, now: Mapping[str, str]) -> str:
    """Return a node's key with other ids, in the order in which keys have them."""
    match = _KEY.fullmatch(key)
    if match is None:
        return key
    ids = [now.get(each, each) for each in match[1].split("×")]
    return "×".join(sorted(ids, key=_natural)) + match[2]


def _natural(identity: str) -> tuple[str, int, str]:
    match = _ID.fullmatch(identity)
    return (match[1], int(match[2] or -1), match[3]) if match else (identity, -1, "")
