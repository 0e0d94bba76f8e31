"""Methods are found as files of the room, loaded only when asked for."""

import subprocess
import sys
from collections.abc import Generator
from pathlib import Path

import numpy as np
import pytest

from stringerlab import methods
from stringerlab.errors import StringerlabError
from stringerlab.methods import CraftRow, PanelRows, findings, method_named
from stringerlab.workings import workings

TINY = '''
"""A tiny method: a panel's thickness by its short side."""

from stringerlab.laminate.records import Moduli
from stringerlab.methods.records import Aspect, CraftRow, Judged, Method
from stringerlab.methods.records import PanelRows, PlatingRows, SandwichRows, SpanRows
from stringerlab.units import Mm, unit_named
from stringerlab.workings import Array, Known, Source, formula

RULE = Source("A boatbuilder's rule", "of thumb", Known.PRACTICE)


@formula(symbol="t_req", source=RULE)
def thickness(b: Mm) -> Mm:
    """One hundredth of the short side."""
    return b / 100


def judge_panels(craft: CraftRow, rows: PanelRows) -> list[Judged]:
    return [
        Judged(
            aspect=Aspect.THICKNESS,
            demand=thickness(b=rows.b),
            capacity=rows.t,
            unit=unit_named("mm"),
            power=2,
            source=RULE,
        )
    ]


def nothing(craft: CraftRow, rows: SandwichRows | SpanRows) -> list[Judged]:
    return []


def plating(rows: PlatingRows) -> Array:
    return rows.s


METHOD = Method(
    id="tiny",
    name="A rule of thumb",
    edition="",
    superseded="",
    moduli=Moduli.PLAIN,
    plating=plating,
    judge_panels=judge_panels,
    judge_sandwiches=nothing,
    judge_spans=nothing,
)
'''


@pytest.fixture
def another_method(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Generator[None]:
    (tmp_path / "tiny.py").write_text(TINY, encoding="utf-8")
    monkeypatch.setattr(methods, "__path__", [*methods.__path__, str(tmp_path)])
    yield
    sys.modules.pop("stringerlab.methods.tiny", None)
    if hasattr(methods, "tiny"):
        delattr(methods, "tiny")


def test_second_method_is_one_file(another_method: None, craft: CraftRow, panel: PanelRows) -> None:
    assert "tiny" in methods.available()
    tiny = method_named("tiny")
    with workings() as recording:
        judged = tiny.judge_panels(craft, panel)
    (finding,) = findings(tiny, judged, [("p1", "Aft")], recording)
    assert (finding.demand, finding.capacity) == (4.0, 6.0)
    assert finding.utilisation == pytest.approx((4 / 6) ** 2)
    assert (finding.method, finding.known.value) == ("A rule of thumb", "common practice")
    assert [step.formula.symbol for step in finding.steps] == ["t_req"]


def test_only_modules_that_state_a_method_are_methods() -> None:
    known = methods.available()
    assert {"class_guide_planing", "class_limits", "iso_12215_5_2008"} <= set(known)
    assert list(known) == sorted(known)
    for id_ in known:
        assert method_named(id_).id == id_
    assert not {"records", "governing", "unjudged", "savitsky_brown"} & set(known)


def test_unknown_method_names_those_there_are() -> None:
    with pytest.raises(StringerlabError, match=r"no method 'iso'\. Use one of: .*iso_12215_5_2008"):
        method_named("iso")


def test_module_of_the_room_that_is_no_method_is_refused() -> None:
    with pytest.raises(StringerlabError, match="no method 'records'"):
        method_named("records")


def test_listing_the_methods_loads_none() -> None:
    code = (
        "import sys; from stringerlab import methods; methods.available();"
        "found = tuple(f'stringerlab.methods.{kind}' for kind in ('iso', 'class'));"
        "print([name for name in sys.modules if name.startswith(found)])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_notice_stands() -> None:
    assert "not a class or conformity assessment" in methods.NOTICE
    assert np.isclose(methods.TIGHT_ABOVE, 0.9)
