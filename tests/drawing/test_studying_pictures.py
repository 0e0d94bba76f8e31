"""Bars, curves and contours: lengths and lines at the numbers they show, the limit and the boat marked."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from stringerlab.drawing import DARK, LIGHT, PRINT, Area, Label, Line, Mark, Picture, Role, Theme, svg
from stringerlab.drawing.axes import Reach, in_system, shortened, ticks
from stringerlab.drawing.studying import chances_picture, drivers_picture, helps_picture
from stringerlab.drawing.studying_contours import contours_picture, levels_of, lines_at
from stringerlab.drawing.studying_curves import curves_picture
from stringerlab.project.wishes import Change, Number, ScatterPlan, Study
from stringerlab.sizing.records import Chance, Driver, Helped, Scattering, Step, Studied
from stringerlab.units import System
from stringerlab.workings import Array

SIZE = (180.0, 110.0)
HEIGHT = Number(id="n1", change=Change.HEIGHT, of=("s1",), least=100, most=200, step=10)
SPEED = Number(id="n2", change=Change.SPEED, least=20, most=40, step=2)


def step(use: float, mass: float = 1.0) -> Step:
    return Step(
        name=f"hat height → {use}",
        variable="hat height",
        before="100 mm",
        after="110 mm",
        use=use,
        use_change=use - 1.0,
        mass_change=mass,
        worst_after=use,
    )


def width(area: Area) -> float:
    return float(area.rings[0][:, 0].max() - area.rings[0][:, 0].min())


def areas(picture: Picture) -> dict[str, Area]:
    return {item.subject: item for item in picture if isinstance(item, Area) and item.subject}


def words(picture: Picture) -> list[str]:
    return [item.text for item in picture if isinstance(item, Label)]


def test_bars_of_steps_are_as_long_as_what_they_change_and_lie_on_its_side() -> None:
    helped = Helped(
        subject="m1",
        name="Main",
        aspect="modulus",
        kind="rule",
        use=1.0,
        steps=(step(0.8), step(0.95), step(1.1, float("nan"))),
        words="",
    )
    picture = helps_picture(helped, size=SIZE)
    bars = areas(picture)
    assert width(bars["step/0"]) == pytest.approx(4 * width(bars["step/1"]))
    assert width(bars["step/2"]) == pytest.approx(2 * width(bars["step/1"]))
    assert bars["step/0"].rings[0][:, 0].max() == pytest.approx(bars["step/2"].rings[0][:, 0].min())
    assert [bars[f"step/{n}"].role for n in range(3)] == [Role.HOLDS, Role.TIGHT, Role.SHORT]
    assert "not known" in words(picture)
    pounds = words(helps_picture(helped, size=SIZE, units=System.US))
    assert "+2.20 lb" in pounds


def test_steps_that_do_not_fit_are_counted() -> None:
    many = Helped(
        subject="m1", name="Main", aspect="modulus", kind="rule", use=1.0, steps=(step(0.9),) * 30, words=""
    )
    picture = helps_picture(many, size=(180, 40))
    assert len(areas(picture)) == 5
    assert "and 25 more in the table" in words(picture)


def scattering(*shorts: float) -> Scattering:
    chances = tuple(
        Chance(
            subject=f"m{n}",
            name=f"Span {n}",
            aspect="modulus",
            nominal=0.9,
            short=short,
            low=short / 2,
            high=short * 1.5,
            mean=0.9,
            percentiles=(0.8, 0.9, 1.05),
            drivers=(Driver(name="thickness", correlation=-0.9), Driver(name="speed", correlation=0.3)),
        )
        for n, short in enumerate(shorts)
    )
    return Scattering(
        plan=ScatterPlan(), inputs=(), samples=1024, chances=chances, any_short=(0.4, 0.35, 0.45)
    )


def test_bars_of_chances_run_to_one_scale_with_their_intervals() -> None:
    picture = chances_picture(scattering(0.3, 0.1, 0.0), size=SIZE)
    bars = areas(picture)
    assert width(bars["chance/0"]) == pytest.approx(3 * width(bars["chance/1"]))
    assert "chance/2" not in bars
    spans = [
        i for i in picture if isinstance(i, Line) and i.subject == "chance/0" and np.ptp(i.points[:, 1]) == 0
    ]
    left = bars["chance/0"].rings[0][:, 0].min()
    low, high = spans[0].points[:, 0] - left
    assert low == pytest.approx(width(bars["chance/0"]) / 2)
    assert high == pytest.approx(width(bars["chance/0"]) * 1.5)
    assert "30.0 %  (15.0 to 45.0)" in words(picture)


def test_drivers_lie_left_and_right_of_nothing_by_sign() -> None:
    picture = drivers_picture(scattering(0.3).chances[0], size=SIZE)
    bars = areas(picture)
    assert width(bars["driver/0"]) == pytest.approx(3 * width(bars["driver/1"]))
    assert bars["driver/0"].rings[0][:, 0].max() == pytest.approx(bars["driver/1"].rings[0][:, 0].min())


def test_the_share_of_samples_below_rises_to_where_the_limit_cuts_it() -> None:
    curve = tuple((part, 0.8 + part / 300.0) for part in (1.0, 5.0, 20.0, 50.0, 80.0, 95.0, 99.0))
    chance = replace(scattering(0.2).chances[0], curve=curve, percentiles=(0.8167, 0.9667, 1.1167))
    picture = drivers_picture(chance, size=SIZE)
    limit = next(i for i in picture if isinstance(i, Line) and i.role is Role.GOVERNING).points
    line = next(i for i in picture if isinstance(i, Line) and i.role is Role.CURVE).points
    assert (np.diff(line, axis=0) > 0).all()
    cut = np.interp(limit[0, 0], line[:, 0], line[:, 1])
    bottom, top = sorted(limit[:, 1])
    assert (cut - bottom) / (top - bottom) == pytest.approx(0.6)
    assert {"hold 80.0 %", "short 20.0 %"} <= set(words(picture))


def test_a_narrow_space_keeps_what_drives_it_and_leaves_the_curve_out() -> None:
    picture = drivers_picture(scattering(0.3).chances[0], size=(80.0, 60.0))
    assert not any(isinstance(i, Line) and i.role is Role.CURVE for i in picture)
    assert {"driver/0", "driver/1"} <= set(areas(picture))


def studied(values: Array, *, present: tuple[float, ...] = (150.0, 30.0)) -> Studied:
    two = values.ndim == 3
    x, y = np.linspace(100, 200, 11), np.linspace(20, 40, 11)
    return Studied(
        study=Study(id="q1", name="S", along=(HEIGHT, SPEED) if two else (HEIGHT,)),
        axes=tuple(tuple(axis.tolist()) for axis in ((x, y) if two else (x,))),
        axis_names=("hat height", "speed")[: 2 if two else 1],
        axis_units=("mm", "kn")[: 2 if two else 1],
        reading_names=("utilisation, highest", "mass")[: len(values)],
        reading_units=("", "kg")[: len(values)],
        values=values,
        present=present[: 2 if two else 1],
    )


def test_a_contour_lies_where_the_values_reach_its_level() -> None:
    x, y = np.linspace(100, 200, 101), np.linspace(20, 40, 81)
    values = x[None, :] * y[:, None] / 4500
    lines = lines_at(x, y, values, 1.0)
    assert len(lines) == 1
    assert lines[0][:, 0] * lines[0][:, 1] == pytest.approx(np.full(len(lines[0]), 4500), rel=1e-4)


def test_contours_leave_out_what_could_not_be_judged() -> None:
    x = y = np.linspace(0, 1, 11)
    values = np.repeat(x[None, :], 11, axis=0)
    values[:5] = np.nan
    lines = lines_at(x, y, values, 0.55)
    assert min(line[:, 1].min() for line in lines) >= 0.5
    assert levels_of(np.full((2, 2), np.nan)) == []


def test_the_limit_is_bold_and_what_is_beyond_it_shaded_only_for_a_utilisation() -> None:
    x = np.linspace(0.5, 1.5, 11)
    use = np.repeat(x[:, None], 11, axis=1)
    found = studied(np.array([use, use]))
    picture = contours_picture(found, 0, size=SIZE)
    bold = [i for i in picture if isinstance(i, Line) and i.role is Role.SHORT and i.tip]
    frame = next(i for i in picture if isinstance(i, Line) and i.closed)
    middle = (frame.points[:, 0].min() + frame.points[:, 0].max()) / 2
    assert bold[0].points[:, 0] == pytest.approx(np.full(len(bold[0].points), middle))
    shaded = next(i for i in picture if isinstance(i, Area) and i.role is Role.PATCH)
    assert shaded.rings[0][:, 0].min() == pytest.approx(middle)
    assert {"1", "0.6", "1.4"} <= set(words(picture))
    mass = contours_picture(found, 1, size=SIZE)
    assert not [i for i in mass if isinstance(i, Line) and i.role is Role.SHORT]
    assert not [i for i in mass if isinstance(i, Area) and i.role is Role.PATCH]


def test_the_boats_own_place_is_marked_where_it_lies_in_the_range() -> None:
    values = np.ones((1, 11, 11))
    marks = [i for i in contours_picture(studied(values), 0, size=SIZE) if isinstance(i, Mark)]
    assert len(marks) == 1
    assert "150, 30" in marks[0].tip.replace("150.0", "150").replace("30.00", "30")
    outside = contours_picture(studied(values, present=(90.0, 30.0)), 0, size=SIZE)
    assert not [i for i in outside if isinstance(i, Mark)]


def test_a_curve_has_a_gap_where_a_step_could_not_be_judged() -> None:
    use = np.linspace(1.4, 0.6, 11)
    use[4] = np.nan
    picture = curves_picture(studied(np.array([use, np.linspace(40, 60, 11)])), size=SIZE)
    pieces = [i for i in picture if isinstance(i, Line) and i.tip == "utilisation, highest"]
    assert [len(piece.points) for piece in pieces] == [4, 6]
    marks = [i for i in picture if isinstance(i, Mark) and i.tip.startswith("utilisation")]
    assert len(marks) == 10
    limit = next(i for i in picture if isinstance(i, Line) and i.role is Role.SHORT)
    assert pieces[1].points[0, 1] == pytest.approx(limit.points[0, 1])
    assert pieces[0].points[-1, 1] > limit.points[0, 1] > pieces[1].points[1, 1]


def test_axes_are_in_the_units_shown() -> None:
    found = studied(np.array([np.linspace(1.4, 0.6, 11)]))
    assert "Hat height (in)" in words(curves_picture(found, size=SIZE, units=System.US))
    assert in_system("mm", System.US)[0] == pytest.approx(1 / 25.4)
    assert in_system("kn", System.METRIC) == (1.0, "kn")
    assert in_system("EUR", System.US) == (1.0, "EUR")


@pytest.mark.parametrize("theme", [LIGHT, DARK, PRINT], ids=lambda theme: theme.name)
def test_every_picture_is_written_as_svg(theme: Theme) -> None:
    use = np.linspace(1.4, 0.6, 11)
    one = curves_picture(studied(np.array([use])), size=SIZE)
    two = contours_picture(studied(np.repeat(use[None, :, None], 11, axis=2)), 0, size=SIZE)
    for picture in (one, two, chances_picture(scattering(0.3), size=SIZE)):
        text = svg(picture, theme, title="A study")
        assert "<svg" in text
        assert "nan" not in text


def test_nothing_known_has_a_reach_and_no_ticks_without_a_span() -> None:
    assert Reach.of(np.array([np.nan])) == Reach(0.0, 1.0)
    assert ticks(1, 1, 5) == []
    assert shortened("a long name of a thing", 14) == "a long…"
