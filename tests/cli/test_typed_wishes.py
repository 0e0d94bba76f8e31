"""Wishes typed on the command line: what they read as, and what is said of those that cannot be read."""

import pytest

from stringerlab.cli.typed_wishes import (
    demand_read,
    each,
    number_read,
    plies_read,
    reading_read,
    scatter_read,
)
from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.project.wishes import (
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

BOAT = load(folder("sample_projects") / "eelgrass_workboat.json")
DRAWN = load(folder("sample_projects") / "tidewrack_layout.json")


@pytest.mark.parametrize(
    ("text", "number"),
    [
        (
            "height Main stringer 100 160 10",
            Number(id="v", change=Change.HEIGHT, of=("s5",), least=100, most=160, step=10),
        ),
        (
            "bead of s5, s7 8 12 0,5",
            Number(id="v", change=Change.BEAD, of=("s5", "s7"), least=8, most=12, step=0.5),
        ),
        (
            "layers Bottom:3 1 4 1",
            Number(id="v", change=Change.REPEATS, of=("l1",), ply=3, least=1, most=4, step=1),
        ),
        ("speed 20 30 2", Number(id="v", change=Change.SPEED, least=20, most=30, step=2)),
        (
            "crown Main stringer 4in 6in 1in",
            Number(id="v", change=Change.CROWN_WIDTH, of=("s5",), least=101.6, most=152.4, step=25.4),
        ),
        # a name may have a comma, and end in a number
        (
            "spacing Main stringer, floor 1 to 2 400 600 50",
            Number(id="v", change=Change.SPACING, of=("m23",), least=400, most=600, step=50),
        ),
    ],
)
def test_a_number_that_may_change(text: str, number: Number) -> None:
    assert number_read(BOAT, text, "v") == number


def test_members_are_those_of_the_layout_in_use() -> None:
    found = number_read(DRAWN, "transverses Floor 1, Floor 5 4 8 1", "v")
    used = next(layout for layout in DRAWN.layouts if layout.id == DRAWN.layout)
    names = {member.id: member.name for member in used.members}
    assert [names[one] for one in found.of] == ["Floor 1", "Floor 5"]


@pytest.mark.parametrize(
    ("text", "plies"),
    [
        (
            "Main stringer: csm450 WR600, 3 to 7, keep 1, end 2, gauge 4",
            Plies(
                id="v",
                laminate="l2",
                menu=("csm450", "wr600"),
                least=3,
                most=7,
                kept=1,
                ended=2,
                gauge=4.0,
            ),
        ),
        (
            "l1: csm450, 5, any order",
            Plies(id="v", laminate="l1", menu=("csm450",), least=5, most=5, mat_between=False),
        ),
    ],
)
def test_plies_that_may_change(text: str, plies: Plies) -> None:
    assert plies_read(BOAT, text, "v") == plies


@pytest.mark.parametrize(
    ("text", "demand"),
    [
        ("utilisation 0.9", Demand(id="d", holds=Holds.USE, limit=0.9)),
        (
            "utilisation web area of Main stringer, floor 1 to 2 80%",
            Demand(id="d", holds=Holds.USE, limit=0.8, aspect="web area", of=("m23",)),
        ),
        ("deflection 1/200", Demand(id="d", holds=Holds.DEFLECTION, limit=0.005)),
        ("height of Main stringer 150", Demand(id="d", holds=Holds.HEIGHT, limit=150, of=("s5",))),
    ],
)
def test_what_must_hold(text: str, demand: Demand) -> None:
    assert demand_read(BOAT, text, "d") == demand


@pytest.mark.parametrize(
    ("text", "reading"),
    [
        ("utilisation", Reading()),
        ("mass", Reading(shown=Shown.MASS)),
        ("utilisation web area", Reading(aspect="web area")),
        ("utilisation of Main stringer, floor 1 to 2", Reading(subject="m23")),
    ],
)
def test_what_is_read_off(text: str, reading: Reading) -> None:
    assert reading_read(BOAT, text, "r") == reading


@pytest.mark.parametrize(
    ("text", "scatter"),
    [
        ("thickness 7%", Scatter(id="s", what=Scattered.THICKNESS, spread=0.07)),
        (
            "strength 0.1 lognormal of Bottom, Main stringer",
            Scatter(id="s", what=Scattered.STRENGTH, law=Law.LOGNORMAL, spread=0.1, of=("l1", "l2")),
        ),
        ("bead 0.2 of s5", Scatter(id="s", what=Scattered.BEAD, spread=0.2, of=("s5",))),
    ],
)
def test_what_scatters(text: str, scatter: Scatter) -> None:
    assert scatter_read(BOAT, text, "s") == scatter


@pytest.mark.parametrize(
    ("read", "text", "said"),
    [
        (number_read, "hight Main stringer 1 2 3", "Begin with one of: height, crown"),
        (number_read, "height Main stringer", "least, most and step"),
        (number_read, "height Main stringer tall 2 3", "tall"),
        (number_read, "height Main strin 1 2 3", "The nearest is: Main stringer"),
        (number_read, "speed Main stringer 1 2 3", "the boat's"),
        (number_read, "layers Bottom 1 2 1", "which ply"),
        (number_read, "height 1 2 3", "names no section"),
        (plies_read, "Bottom csm450", "which laminate"),
        (plies_read, "Bottom: csm450, lots", "'lots' is not understood"),
        (demand_read, "utilisation", "no limit"),
        (demand_read, "utilisation beauty 0.9", "no aspect 'beauty'"),
        (demand_read, "deflection web area 0.9", "'web area' is not understood"),
        (reading_read, "mass of Bottom", "the boat's"),
        (scatter_read, "thickness", "no spread"),
        (scatter_read, "thickness 0.1 gaussian", "not law"),
        (scatter_read, "speed 0.1 of Bottom", "the boat's"),
    ],
)
def test_what_cannot_be_read_is_said(read: object, text: str, said: str) -> None:
    assert callable(read)
    with pytest.raises(StringerlabError) as error:
        each("--option", [text], lambda one, key: read(BOAT, one, key))
    assert said in str(error.value)
    assert f"--option '{text}'" in str(error.value)


def test_everything_wrong_is_said_at_once() -> None:
    texts = ["height Main stringer 1e12 2 3", "height Nowhere 1 2 3", "spead 1 2 3"]
    with pytest.raises(StringerlabError) as error:
        each("--vary", texts, lambda text, key: number_read(BOAT, text, key))
    assert len(error.value.problems) == 3
