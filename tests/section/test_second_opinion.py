"""Area, EA, centroid and EI of six sections against sectionproperties, and what happens when it fails."""

import json
import sys
from collections.abc import Callable
from math import nan

import pytest

from stringerlab.errors import StringerlabError
from stringerlab.laminate import Moduli, Stack
from stringerlab.section import Plating, SectionShape, Side, WallShape, properties
from stringerlab.section.other_process import asked
from stringerlab.section.second_opinion import Opinion, opinions, second_opinion, second_opinions

Lay = Callable[..., Stack]
Sections = dict[str, tuple[SectionShape, Plating | None]]

RELATIVE = 1e-9
NAMES = (
    "hat",
    "wide hat with foam",
    "plate floor with tabs",
    "freehand",
    "hat on deadrise",
    "closed box",
)


@pytest.fixture(scope="module")
def asked_once(sections: Sections) -> dict[str, Opinion]:
    """One process for all six."""
    found = second_opinions([(*sections[name], Moduli.PLAIN) for name in NAMES])
    return dict(zip(NAMES, found, strict=True))


@pytest.mark.parametrize("name", NAMES)
def test_stiffness_agrees_with_sectionproperties(
    name: str, sections: Sections, asked_once: dict[str, Opinion]
) -> None:
    ours, theirs = properties(sections[name][0], sections[name][1], Moduli.PLAIN), asked_once[name]
    for quantity in ("area", "EA", "EI_y", "EI_z"):
        assert getattr(ours, quantity) == pytest.approx(getattr(theirs, quantity), rel=RELATIVE), quantity
    assert ours.EI_yz == pytest.approx(theirs.EI_yz, abs=RELATIVE * ours.EI_1)
    size = (ours.EI_1 / ours.EA) ** 0.5
    assert ours.y_na == pytest.approx(theirs.y_na, abs=RELATIVE * size)
    assert ours.z_na == pytest.approx(theirs.z_na, abs=RELATIVE * size)


def test_laps_that_share_their_place_get_no_second_opinion(lay: Lay) -> None:
    stack = lay((2.0, 7000.0))
    shape = SectionShape(
        name="lapped",
        walls=tuple(
            WallShape(id=id_, points=points, fillets=(), side=Side.LEFT, closed=False, stack=stack)
            for id_, points in (("w1", ((0, 0), (60, 0))), ("w2", ((40, 0), (100, 0))))
        ),
        laps=(("w1", "w2"),),
    )
    with pytest.raises(StringerlabError, match=r"section 'lapped': Its polygons overlap by 40 mm²"):
        second_opinion(shape, None, Moduli.PLAIN)


def test_a_process_that_hangs_is_stopped() -> None:
    with pytest.raises(StringerlabError, match=r"longer than 0\.5 s and was stopped"):
        asked([sys.executable, "-c", "import time; time.sleep(60)"], "", 0.5, "section 'x'")


def test_a_process_that_crashes_is_said_so() -> None:
    with pytest.raises(
        StringerlabError, match=r"section 'x': The second opinion's process ended with status -6"
    ):
        asked([sys.executable, "-c", "import os; os.abort()"], "", 30.0, "section 'x'")


def test_a_process_that_raises_is_quoted() -> None:
    with pytest.raises(StringerlabError, match=r"status 1: ValueError: no mesh"):
        asked([sys.executable, "-c", "raise ValueError('no mesh')"], "", 30.0, "section 'x'")


def test_a_process_that_is_not_there() -> None:
    with pytest.raises(StringerlabError, match=r"could not be started"):
        asked(["/no/such/interpreter"], "", 30.0, "section 'x'")


@pytest.mark.parametrize(
    "answer",
    [
        "Segmentation fault",
        "",
        "[]",
        "[1, 2]",
        '[{"area": 1}]',
        json.dumps([dict.fromkeys(Opinion.__slots__, nan)]),
    ],
)
def test_garbage_is_refused(answer: str) -> None:
    with pytest.raises(StringerlabError, match=r"not a list of numbers"):
        opinions(answer, 1, "section 'x'")
