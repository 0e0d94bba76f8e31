"""Columns of the designs found: titles on few letters, runs of a ply told once, nothing lost of either."""

import pytest

from stringerlab.desktop.sizing.designs import folded, shortened


@pytest.mark.parametrize(
    ("title", "lines"),
    [
        ("cost (crowns)", ["cost (crowns)"]),
        ("plies of Girder", ["plies of", "Girder"]),
        ("hat height of Main stringer", ["hat height", "of Main", "stringer"]),
    ],
)
def test_a_long_title_is_folded_between_words(title: str, lines: list[str]) -> None:
    assert folded(title).split("\n") == lines
    assert folded(title).replace("\n", " ") == title


@pytest.mark.parametrize(
    ("plies", "short"),
    [
        ("csm450, m1808, m1808, m1808", "csm450, 3× m1808"),
        ("csm450, wr600, csm450", "csm450, wr600, csm450"),
        ("135 mm", "135 mm"),
    ],
)
def test_a_run_of_the_same_ply_is_told_once(plies: str, short: str) -> None:
    assert shortened(plies) == short
