"""One task of a scatter run: samples of a few replicates judged, and what is kept of them.

Only sums, counts, percentiles and rank correlations are kept, so that a run of millions stays small.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, cast

import numpy as np

from stringerlab.methods import Method
from stringerlab.project import Project
from stringerlab.project.wishes import ScatterPlan
from stringerlab.sizing.running import Pack, pulse
from stringerlab.sizing.scatter.model import Model, model_of
from stringerlab.sizing.scatter.places import AT_ONCE, Part, places
from stringerlab.workings import Array

RANKED = 1024
"""Samples of a task that are ranked at the most."""
PERCENTS = (0.5, 1.0, 2.5, *np.arange(5.0, 100.0, 5.0).tolist(), 97.5, 99.0, 99.5)
"""Of the samples: where the cumulative curve of a utilisation is known."""
NAMED = (PERCENTS.index(5.0), PERCENTS.index(50.0), PERCENTS.index(95.0))
"""Which of them are told as percentiles."""
SHORT = 1.0
"""Utilisation above which a finding is short."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """Some parts of replicates of a project's scatter, by a method's id."""

    project: Project
    plan: ScatterPlan
    method: str
    parts: tuple[Part, ...]


def tasks_of(project: Project, plan: ScatterPlan, method: Method, parts: Sequence[Part]) -> tuple[Task, ...]:
    """Return tasks of about as many samples each, parts in their order."""
    groups: list[list[Part]] = []
    held = AT_ONCE
    for part in parts:
        if held + part.count > AT_ONCE:
            groups.append([])
            held = 0
        groups[-1].append(part)
        held += part.count
    return tuple(Task(project=project, plan=plan, method=method.id, parts=tuple(group)) for group in groups)


def sampled(task: Task) -> Pack:
    """Return what the samples of a task come to."""
    return pack_of(model_of(task.project, task.plan, task.method), task.plan.seed, task.parts)


def pack_of(model: Model, seed: int, parts: Sequence[Part]) -> Pack:
    """Return what samples come to.

    Returns
    -------
    Pack
        ``count`` samples; ``short`` (parts, findings) how many are short, ``any`` (parts,) where any is;
        ``unknown`` (findings,) in how many one has no number; ``sum`` of the utilisation and ``percentiles``
        (findings, `PERCENTS`); ``correlations`` (findings, inputs); ``strayed`` (3,) as of `Model.strayed`.
    """
    at = np.concatenate([places(part, len(model.moving), seed) for part in parts])
    count = len(at)
    by = model.factors_at(at)
    starts = np.cumsum([0, *(part.count for part in parts[:-1])])
    ranks = _ranks(at[:RANKED])
    short: list[Array] = []
    rows: list[tuple[float, float, Array, Array]] = []
    anywhere = np.zeros(count, bool)
    batch = model.batch(by, count)
    for number, (_, use) in enumerate(model.judged(by, count, batch)):
        if number % 8 == 0:
            pulse()
        above = use > SHORT
        anywhere |= above
        short.append(np.add.reduceat(above.astype(float), starts))
        ascending = np.sort(use)
        held = ascending[: np.searchsorted(ascending, np.nan)]
        rows.append(
            (
                float(count - len(held)),
                float(held.sum()),
                _percentiles(held),
                _correlations(use[:RANKED], ranks),
            )
        )
    return {
        "count": count,
        "replicates": np.array([part.replicate for part in parts]),
        "counts": np.array([part.count for part in parts], float),
        "short": np.stack(short, axis=1) if short else np.zeros((len(parts), 0)),
        "any": np.add.reduceat(anywhere.astype(float), starts),
        "unknown": np.array([row[0] for row in rows]),
        "sum": np.array([row[1] for row in rows]),
        "percentiles": np.array([row[2] for row in rows]),
        "correlations": np.array([row[3] for row in rows]),
        "strayed": np.array(model.strayed(by, batch), float),
    }


def _percentiles(ascending: Array) -> Array:
    """Return percentiles of values in their order, straight between two of them."""
    if not len(ascending):
        return np.full(len(PERCENTS), np.nan)
    at = np.array(PERCENTS) / 100 * (len(ascending) - 1)
    return np.asarray(np.interp(at, np.arange(len(ascending)), ascending), np.float64)


def _ranks(values: Array) -> Array:
    """Return ranks (n, m) of every column, of mean 0 and length 1; 0 where all are alike."""
    from scipy import stats

    ranked = np.asarray(cast(Any, stats).rankdata(values, axis=0), np.float64)
    ranked -= ranked.mean(axis=0)
    length = np.sqrt((ranked**2).sum(axis=0))
    return np.asarray(ranked / np.where(length > 0, length, 1.0), np.float64)


def _correlations(use: Array, ranks: Array) -> Array:
    """Return Spearman's rank correlation with every input; of what does not change, 0."""
    order = np.argsort(use, kind="stable")
    ascending = use[order]
    least, most = float(ascending[0]), float(ascending[-1])
    if not most - least > 1e-12 * max(1.0, abs(most)):
        return np.zeros(len(ranks.T))
    if not (ascending[1:] > ascending[:-1]).all():  # ties share the mean of their ranks
        tied = _ranks(use[:, None])
        return np.asarray(np.matmul(tied.T, ranks), np.float64)[0]
    n = len(use)
    places = np.empty(n)
    places[order] = np.arange(n) - (n - 1) / 2
    length = float(np.sqrt(n * (n * n - 1) / 12))
    return np.asarray(np.matmul(places, ranks) / length, np.float64)
