"""Steps of a study judged many at a time, where nothing but rule findings, mass, cost and labour is read.

A step that the fast way does not know is left to the plain way, which says why. Same numbers to 1e-10.
"""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from stringerlab.errors import StringerlabError
from stringerlab.project import Project
from stringerlab.project.wishes import Demand, Holds, Reading, Shown, SizingPlan, Study
from stringerlab.sizing.judging.judge import Judge
from stringerlab.sizing.records import Mask, Outcome
from stringerlab.sizing.running import pulse
from stringerlab.workings import Array

WORTH = 64
"""Steps from which making a judge is worth it."""
AT_ONCE = 512
"""Steps of a task."""
_BEAT = 32
"""Steps between two looks of the watch."""


def is_judged_fast(project: Project, study: Study) -> bool:
    """Whether a judge can be made of a study."""
    try:
        Judge(project, _plan(study), tried=False)
    except StringerlabError:
        return False
    return True


def fast_readings(project: Project, study: Study, choices: Sequence[tuple[int, ...]]) -> tuple[Array, Mask]:
    """Return readings (readings, steps), and which steps are left to the plain way (steps,).

    Parameters
    ----------
    project, study
        The boat and a study that is judged fast.
    choices
        Of each step, which of its values every number takes.
    """
    judge = Judge(project, _plan(study), tried=False)
    genes = np.array(choices, dtype=np.int64)
    values = np.full((len(study.readings), len(genes)), np.nan)
    sound = np.zeros(len(genes), dtype=np.bool_)
    for first in range(0, len(genes), _BEAT):
        pulse(first / len(genes))
        some = slice(first, first + _BEAT)
        found = judge.judge(genes[some])
        values[:, some] = [_read(one, place, found) for place, one in enumerate(study.readings)]
        sound[some] = found.sound
    asked = np.array([one.shown in {Shown.USE, Shown.MASS} for one in study.readings])
    known = (np.isfinite(values) & (values > 0)) | ~asked[:, None]
    return values, ~(sound & known.all(axis=0))


def _plan(study: Study) -> SizingPlan:
    """Return a plan whose demands are the study's readings, in their order."""
    return SizingPlan(
        numbers=tuple(replace(one, id=f"along {place}") for place, one in enumerate(study.along)),
        demands=tuple(
            Demand(
                id=f"reading {place}",
                holds=Holds.USE,
                limit=1.0,
                aspect=one.aspect if one.shown is Shown.USE else "",
                of=(one.subject,) if one.shown is Shown.USE and one.subject else (),
            )
            for place, one in enumerate(study.readings)
        ),
    )


def _read(reading: Reading, place: int, found: Outcome) -> Array:
    match reading.shown:
        case Shown.USE:
            return found.ratios[:, place]
        case Shown.MASS:
            return found.mass
        case Shown.COST:
            return found.cost
        case Shown.LABOUR:
            return found.hours
