"""A search of several tasks that is soon done: what the tests of runs that lose somebody run."""

from importlib import import_module

import pytest

from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.project import Project
from stringerlab.project.wishes import Change, Number, Plies, SizingPlan
from stringerlab.sizing.records import Design, Sized
from stringerlab.sizing.searching import runs

TASKS = 8
_EACH = 800
_SHOWN = 8


def boat() -> Project:
    return load(folder("sample_projects") / "first_hat_lesson.json")


def plan(boat: Project) -> SizingPlan:
    """Return a plan of a space too large to prove, searched in ``TASKS`` tasks."""
    (hat,), (_, stringer) = boat.sections, boat.laminates
    return SizingPlan(
        numbers=(
            Number(id="high", change=Change.HEIGHT, of=(hat.id,), least=60, most=160, step=0.5),
            Number(id="wide", change=Change.CROWN_WIDTH, of=(hat.id,), least=30, most=100, step=0.5),
        ),
        laminates=(Plies(id="plies", laminate=stringer.id, menu=("csm450", "wr600", "csm300"), most=9),),
        budget=TASKS * _EACH,
    )


def in_small_tasks(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(import_module("stringerlab.sizing.searching.size"), "SHOWN", _SHOWN)
    patch.setattr(runs, "PER_ISLAND", _EACH * 6 // 10)  # first looks take a tenth, the walk at the end three


def answer(found: Sized) -> tuple[object, ...]:
    """Return what must be the same however a search runs: all but how it went."""
    designs: tuple[Design, ...] = (found.present, *found.front)
    return found.space, found.judged, found.ruled_out, found.proven, found.broken, designs
