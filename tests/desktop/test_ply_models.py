"""Plies as rows and as text, without a page; lists told apart."""

import pytest

from stringerlab.desktop.models.ply_rows import ply_rows
from stringerlab.desktop.models.ply_text import as_text, from_text
from stringerlab.desktop.models.rows import Difference, difference
from stringerlab.desktop.session import Session
from stringerlab.laminate import Laminate, Ply, resolve
from stringerlab.project import book_of, edits
from stringerlab.units import System


@pytest.mark.parametrize("system", list(System))
def test_text_comes_back_as_the_same_plies(session: Session, system: System) -> None:
    plies = (
        Ply(material="gelcoat", thickness=0.508),
        Ply(material="csm450"),
        Ply(material="wr600", angle=22.5, glass=0.5),
        Ply(material="db600", weight=678.0, angle=-45.0),
    )
    laid = edits.added(session.project, Laminate(id="", name="Trial", plies=plies))
    session.begin(laid)
    rows = ply_rows(session.project, session.resolved, session.project.laminates[-1])
    back = from_text(as_text(rows, system), book_of(laid), system)
    assert [ply.material for ply in back] == [ply.material for ply in plies]
    for one, other in zip(back, plies, strict=True):
        for field in ("angle", "glass", "weight", "thickness"):
            mine, theirs = getattr(one, field), getattr(other, field)
            assert (mine is None) == (theirs is None), field
            assert mine is None or mine == pytest.approx(theirs, rel=1e-3)


def test_plies_out_of_order_still_have_numbers(session: Session) -> None:
    plies = (Ply(material="csm450"), Ply(material="pvc80", thickness=20.0))
    session.edit("Add", edits.added, Laminate(id="", name="Open", plies=plies))
    laminate = session.project.laminates[-1]
    rows = ply_rows(session.project, session.resolved, laminate)
    alone = resolve(Laminate(id="", name="", plies=(*plies, plies[0])), book_of(session.project))
    assert [row.numbers for row in rows] == list(alone.plies[:2])
    assert [len(row.problems) for row in rows] == [0, 1]


@pytest.mark.parametrize(
    ("before", "after", "expected"),
    [
        ("abc", "abc", Difference(3, 0, 0)),
        ("abc", "abxc", Difference(2, 0, 1)),
        ("abc", "ac", Difference(1, 1, 0)),
        ("aab", "aaab", Difference(2, 0, 1)),
        ("", "ab", Difference(0, 0, 2)),
        ("abcd", "adcb", Difference(1, 3, 3)),
    ],
)
def test_lists_differ_in_the_shortest_stretch(before: str, after: str, expected: Difference) -> None:
    assert difference(before, after) == expected
