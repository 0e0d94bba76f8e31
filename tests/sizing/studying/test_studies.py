"""Studies: numbers swept against closed forms, the same on one core and two, and what is refused."""

from collections.abc import Sequence
from dataclasses import replace
from math import atan, degrees, isnan, sqrt

import numpy as np
import pytest

from stringerlab.assess.check import Cancelled
from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.layout.as_built import AsBuilt
from stringerlab.project import Project
from stringerlab.project.wishes import Change, Number, Reading, Shown, Study
from stringerlab.sizing.plain import measured
from stringerlab.sizing.running import Running
from stringerlab.sizing.studying.fast import fast_readings, is_judged_fast
from stringerlab.sizing.studying.studies import studied_rows, study
from stringerlab.units import System

HERE = Running(workers=1)
MODULUS = Reading(subject="m6", aspect="section modulus")
PANEL = Reading(subject="p5", aspect="thickness")


def sample(name: str) -> Project:
    return load(folder("sample_projects") / f"{name}.json")


@pytest.fixture(scope="module")
def lesson() -> Project:
    return sample("first_hat_lesson")


def along(*numbers: Number, readings: Sequence[Reading] = (Reading(), Reading(shown=Shown.MASS))) -> Study:
    return Study(id="y1", name="A study", along=numbers, readings=tuple(readings))


def number(change: Change, least: float, most: float, step: float = 0.0, *of: str, ply: int = 0) -> Number:
    return Number(id="v1", change=change, of=of, ply=ply, least=least, most=most, step=step)


def test_modulus_by_speed_follows_the_planing_load_factor(lesson: Project) -> None:
    """Demand is in proportion to pressure: 1 + √k_DC · n, while n is below 3 and planing pressure governs."""
    found = study(lesson, along(number(Change.SPEED, 12, 15, 0.5), readings=[MODULUS]), running=HERE)
    speeds = np.array(found.axes[0])
    assert speeds.tolist() == [12, 12.5, 13, 13.5, 14, 14.5, 15]
    aft, forward = lesson.craft.stations[0], lesson.craft.stations[1]
    part = 0.4 * lesson.craft.waterline_length / (forward.x - aft.x)
    half = aft.chine_y + part * (forward.chine_y - aft.chine_y)
    rise = aft.chine_z + part * (forward.chine_z - aft.chine_z)
    beam, length = 2 * half / 1000, lesson.craft.waterline_length / 1000
    slope = degrees(atan(rise / half))
    n = 0.32 * (length / (10 * beam) + 0.084) * (50 - slope) * speeds**2 * beam**2 / lesson.craft.mass
    assert (n < 3).all()
    pressure = 1 + sqrt(0.6) * n
    assert found.values[0] / found.values[0, 0] == pytest.approx(pressure / pressure[0], rel=1e-9)


def test_modulus_of_a_long_span_is_used_in_proportion_to_its_spacing(lesson: Project) -> None:
    """psl²/12: in a design area ruled by 0.33 l², the demand is in proportion to the spacing.

    The modulus there is grows with the plating that counts, which a spacing of no cap does not change.
    """
    wide = replace(lesson, spans=(replace(lesson.spans[0], lu=1600.0),))
    read = along(number(Change.SPACING, 400, 500, 50, "m6"), readings=[MODULUS])
    found = study(wide, read, running=HERE)
    assert found.values[0] / found.values[0, 0] == pytest.approx([1, 450 / 400, 500 / 400], rel=1e-9)


def test_a_panel_is_used_by_the_square_of_its_thickness(lesson: Project) -> None:
    """Thickness by strength is of power 2, and every layer of mat adds the same."""
    plies = lesson.laminates[0].plies
    mats = replace(lesson.laminates[0], plies=(plies[0], *[plies[1]] * 6))
    boat = replace(lesson, laminates=(mats, lesson.laminates[1]))
    read = along(number(Change.REPEATS, 4, 10, 1, "l1", ply=2), readings=[PANEL])
    found = study(boat, read, running=HERE)
    layers = np.array(found.axes[0])
    assert layers.tolist() == [4, 5, 6, 7, 8, 9, 10]
    assert found.values[0] * layers**2 == pytest.approx(found.values[0, 0] * 16, rel=1e-9)
    assert found.present == (6,)


def test_mass_grows_by_the_plies_added(lesson: Project) -> None:
    read = along(number(Change.REPEATS, 1, 4, 1, "l1", ply=4), readings=[Reading(shown=Shown.MASS)])
    mass = study(lesson, read, running=HERE).values[0]
    assert np.diff(mass) == pytest.approx([mass[1] - mass[0]] * 3, rel=1e-9)
    assert mass[1] > mass[0]


def test_every_step_is_the_boat_judged_the_plain_way(lesson: Project) -> None:
    found = study(
        lesson,
        along(
            number(Change.SPEED, 20, 24, 2),
            number(Change.HEIGHT, 81.6, 121.6, 20, "s3"),
            readings=[Reading(), MODULUS, Reading(shown=Shown.MASS)],
        ),
        running=HERE,
    )
    assert found.values.shape == (3, 3, 3)
    assert found.present == (22, 101.6)
    for at, speed in enumerate(found.axes[0]):
        whole = measured(replace(lesson, craft=replace(lesson.craft, speed=speed)))
        modulus = whole.highest(subject="m6", aspect="section modulus")
        assert modulus is not None
        assert found.values[:, at, 1].tolist() == [whole.use, modulus.utilisation, whole.mass]
    assert (np.diff(found.values[1], axis=0) > 0).all()
    assert (np.diff(found.values[1], axis=1) < 0).all()
    assert (np.diff(found.values[2], axis=1) > 0).all()


def test_two_numbers_of_one_hat_are_drawn_together(lesson: Project) -> None:
    """Height and width in either order are one hat: the same readings, turned about."""
    height = number(Change.HEIGHT, 81.6, 121.6, 20, "s3")
    width = number(Change.CROWN_WIDTH, 60, 90, 10, "s3")
    one = study(lesson, along(height, width), running=HERE)
    other = study(lesson, along(width, height), running=HERE)
    assert np.array_equal(one.values, other.values.transpose(0, 2, 1))
    assert len(np.unique(one.values[1])) == 12


@pytest.mark.parametrize(
    ("name", "steps"),
    [
        ("eelgrass_workboat", number(Change.SPEED, 20, 30, 0.5)),
        ("tidewrack_layout", number(Change.SPEED, 24, 34, 1)),
    ],
)
def test_the_answer_is_the_same_on_one_core_and_two(name: str, steps: Number) -> None:
    project = sample(name)
    one = study(project, along(steps), running=Running(workers=1))
    two = study(project, along(steps), running=Running(workers=2))
    assert one.values.tobytes() == two.values.tobytes()
    assert one.problems == two.problems
    assert (np.diff(one.values[0]) >= 0).all()
    speeds = one.axes[0]
    own = speeds.index(project.craft.speed)
    assert one.values[0, own] == measured(project).use
    assert one.values[1, own] == measured(project).mass


def test_a_step_that_cannot_be_drawn_is_nan_and_says_why(lesson: Project) -> None:
    found = study(lesson, along(number(Change.HEIGHT, 5, 105, 50, "s3")), running=HERE)
    assert np.isnan(found.values[:, 0]).all()
    assert np.isfinite(found.values[:, 1:]).all()
    ((place, why),) = found.problems
    assert place == (0,)
    assert why
    heads, rows = studied_rows(found)
    assert heads[-1] == "why not"
    assert rows[0][-1] == why
    assert rows[1][-1] == ""


def test_a_table_has_a_row_a_step_and_units_in_its_heads(lesson: Project) -> None:
    found = study(
        lesson, along(number(Change.SPEED, 20, 24, 2), number(Change.HEIGHT, 80, 120, 40, "s3")), running=HERE
    )
    heads, rows = studied_rows(found)
    assert heads[0].endswith("[kn]")
    assert heads[1].endswith("[mm]")
    assert "Hat stringer" in heads[1]
    assert heads[2:] == ("utilisation, highest", "mass [kg]")
    assert len(rows) == 6
    assert [row[:2] for row in rows] == [(20, 80), (20, 120), (22, 80), (22, 120), (24, 80), (24, 120)]
    assert [row[3] for row in rows] == found.values[1].reshape(-1).tolist()


def test_a_table_is_in_the_units_asked_for(lesson: Project) -> None:
    found = study(
        lesson,
        along(number(Change.HEIGHT, 76.2, 101.6, 25.4, "s3"), number(Change.SPEED, 20, 22)),
        running=HERE,
    )
    heads, rows = studied_rows(found, System.US)
    assert heads[0].endswith("[in]")
    assert heads[1].endswith("[kn]")
    assert heads[3] == "mass [lb]"
    assert [row[0] for row in rows] == pytest.approx([3, 3, 4, 4], rel=1e-12)
    assert [row[1] for row in rows] == [20, 22, 20, 22]
    assert rows[0][3] == pytest.approx(found.values[1, 0, 0] / 0.45359237, rel=1e-12)
    assert rows[0][2] == found.values[0, 0, 0]


def test_a_part_that_is_no_longer_there_is_not_read_and_said() -> None:
    project = sample("tidewrack_layout")
    resolved = measured(project).resolved
    last = next(one for one in resolved.subjects if one.name.startswith("Floor 4, keel girder"))
    layout = next(one for one in project.layouts if one.id == project.layout)
    floors = [one for one in layout.members if one.name in {f"Floor {n}" for n in range(1, 7)}]
    asked = along(
        number(Change.TRANSVERSES, 2, 6, 2, *(one.id for one in floors)),
        readings=[Reading(subject=last.id), Reading(shown=Shown.MASS)],
    )
    found = study(project, asked, running=HERE)
    assert np.isfinite(found.values[:, -1]).all()
    unread = [place for place in range(3) if isnan(found.values[0, place])]
    assert unread
    whys = dict(found.problems)
    assert all(whys[place,] for place in unread)


def test_mechanics_are_read_where_the_rule_judges_nothing(lesson: Project) -> None:
    plies = Reading(subject="m6", aspect="ply failure")
    found = study(lesson, along(number(Change.SPEED, 18, 26, 4), readings=[plies]), running=HERE)
    assert (np.diff(found.values[0]) > 0).all()
    assert any("mechanics" in note for note in found.notes)


def test_unpriced_readings_are_nan_and_said(lesson: Project) -> None:
    found = study(
        lesson,
        along(
            number(Change.SPEED, 20, 22), readings=[Reading(shown=Shown.COST), Reading(shown=Shown.LABOUR)]
        ),
        running=HERE,
    )
    assert all(isnan(value) for value in found.values.reshape(-1))
    assert len([note for note in found.notes if note.startswith("No ")]) == 2


def test_everything_wrong_is_listed_at_once(lesson: Project) -> None:
    wrong = along(
        number(Change.HEIGHT, 80, 120, 10, "s99"),
        number(Change.SPEED, 30, 20, 1),
        readings=[Reading(subject="p99"), Reading(aspect="beauty"), Reading(subject="p5", aspect="web area")],
    )
    with pytest.raises(StringerlabError) as raised:
        study(lesson, wrong, running=HERE)
    said = "\n".join(map(str, raised.value.problems))
    for word in ("s99", "p99", "beauty", "web area"):
        assert word in said
    assert len(raised.value.problems) >= 5


@pytest.mark.parametrize(
    ("asked", "word"),
    [
        (along(), "along nothing"),
        (along(*[number(Change.SPEED, 20, 22)] * 3), "along 3 numbers"),
        (along(*[number(Change.SPEED, 20, 22)] * 2), "the same thing"),
        (along(number(Change.SPEED, 20, 22), readings=[]), "Nothing is read off"),
        (along(number(Change.SPEED, 1, 42, 0.01)), "4 101 steps"),
    ],
)
def test_what_is_no_study_is_refused(lesson: Project, asked: Study, word: str) -> None:
    with pytest.raises(StringerlabError, match=word):
        study(lesson, asked, running=HERE)


@pytest.mark.parametrize("name", ["first_hat_lesson", "eelgrass_workboat", "tidewrack_layout"])
def test_many_steps_at_a_time_are_each_the_plain_way(name: str) -> None:
    project = sample(name)
    laminate = project.laminates[0]
    subjects = measured(project).resolved.subjects
    asked = along(
        number(Change.SPEED, 20, 28, 4),
        number(Change.REPEATS, 1, 3, 1, laminate.id, ply=2),
        readings=[
            Reading(),
            Reading(shown=Shown.MASS),
            Reading(subject=subjects[0].id),
            Reading(aspect="section modulus"),
            Reading(shown=Shown.COST),
        ],
    )
    places = [(speed, layers) for speed in range(3) for layers in range(3)]
    fast, left = fast_readings(project, asked, places)
    assert not left.any()
    plain = study(project, asked, running=HERE)
    assert fast.reshape(5, 3, 3) == pytest.approx(plain.values, rel=1e-10, nan_ok=True)
    assert np.isfinite(plain.values[:4]).all()


def test_a_study_of_many_steps_takes_the_fast_way_to_the_same_numbers(lesson: Project) -> None:
    asked = along(
        number(Change.SPEED, 18, 26, 0.25), number(Change.HEIGHT, 91.6, 111.6, 5, "s3"), readings=[MODULUS]
    )
    assert is_judged_fast(lesson, asked)
    found = study(lesson, asked, running=HERE)
    assert found.values.size == 33 * 5
    own = (found.axes[0].index(22), found.axes[1].index(101.6))
    whole = measured(lesson).highest(subject="m6", aspect="section modulus")
    assert whole is not None
    assert whole.utilisation is not None
    assert found.values[0][own] == pytest.approx(whole.utilisation, rel=1e-10)
    two = study(lesson, asked, running=Running(workers=2))
    assert two.values.tobytes() == found.values.tobytes()


def test_of_many_steps_those_that_cannot_be_drawn_are_left_to_the_plain_way(lesson: Project) -> None:
    asked = along(
        number(Change.HEIGHT, 5, 105, 50, "s3"), number(Change.SPEED, 14.5, 25, 0.5), readings=[Reading()]
    )
    found = study(lesson, asked, running=HERE)
    assert found.values.size == 3 * 22
    assert np.isnan(found.values[0, 0]).all()
    assert np.isfinite(found.values[0, 1:]).all()
    assert {place for place, _ in found.problems} == {(0, at) for at in range(22)}
    assert all(why for _, why in found.problems)


def test_a_watch_ends_a_study_and_is_told_of_progress(lesson: Project) -> None:
    told: list[float] = []

    def stop(done: float, what: str) -> None:
        told.append(done)
        if done > 0.5:
            raise Cancelled(what)

    with pytest.raises(Cancelled):
        study(lesson, along(number(Change.SPEED, 10, 40, 0.5)), running=HERE, watch=stop)
    assert told == sorted(told)
    assert told[0] == 0


def test_a_study_goes_on_from_its_journal(lesson: Project, tmp_path_factory: pytest.TempPathFactory) -> None:
    journal = tmp_path_factory.mktemp("study") / "study.jsonl"
    asked = along(number(Change.SPEED, 10, 30, 1))

    def stop(done: float, what: str) -> None:
        if done > 0.5:
            raise Cancelled(what)

    with pytest.raises(Cancelled):
        study(lesson, asked, running=Running(workers=1, journal=journal), watch=stop)
    again = study(lesson, asked, running=Running(workers=1, journal=journal))
    assert again.values.tobytes() == study(lesson, asked, running=HERE).values.tobytes()
    assert again.notes


def test_measurements_as_built_are_said_not_to_be_taken(lesson: Project) -> None:
    asked = along(number(Change.SPEED, 20, 22, 1.0))
    said = "Judged as designed: nothing that was measured of her as built is taken."
    assert said in study(replace(lesson, as_built=AsBuilt()), asked, running=HERE).notes
    assert said not in study(lesson, asked, running=HERE).notes
