"""Size for me: lighter designs within what may change, that hold what must hold; found, or proven the best.

A space whose parts can all be judged within the budget is proven: every design judged or ruled out. A larger
one is searched. Either way every design shown is judged again by the plain path.
"""

from math import inf, prod

import numpy as np

from stringerlab.errors import StringerlabError
from stringerlab.project import Project
from stringerlab.project.wishes import SizingPlan
from stringerlab.sizing.changing.variables import variables_of
from stringerlab.sizing.judging.judge import Judge
from stringerlab.sizing.records import Design, Sized, Watch
from stringerlab.sizing.running import Running
from stringerlab.sizing.running.pulse import pulse_felt
from stringerlab.sizing.searching.aims import problems_of_aims
from stringerlab.sizing.searching.broken import broken_of, held_fast
from stringerlab.sizing.searching.designs import Plain, with_mechanics
from stringerlab.sizing.searching.front import spread_out
from stringerlab.sizing.searching.notes import notes_of
from stringerlab.sizing.searching.runs import Found, Wanted, first_looks, proven, searched, unsearched
from stringerlab.sizing.searching.splitting import split_of
from stringerlab.sizing.searching.tasks import judging

SHOWN = 60
"""How many designs of the front are judged again and shown; where there are more, evenly along it."""
_FIRST = 0.05
"""Part of the work of proving a space that is spent before on finding what rules out most of it."""
_LOOKED, _RUN = 0.05, 0.9
"""Parts of the whole done after the first looks, and after the run."""


def size(
    project: Project,
    plan: SizingPlan | None = None,
    *,
    running: Running | None = None,
    watch: Watch | None = None,
    mechanics: bool = False,
) -> Sized:
    """Return lighter designs of a boat that hold, and no other judged beats.

    Parameters
    ----------
    project
        The boat.
    plan
        What may change, must hold, and is to be lowered; her own by default.
    running
        Where it runs, and the journal. The answer is the same however it runs.
    watch
        Told the part done and what is being done; ends the search by raising.
    mechanics
        Whether mechanics and grid are asked too, of the designs shown. They have no part in the search.

    Raises
    ------
    StringerlabError
        With everything that is wrong with the plan; when a journal or cluster cannot be used; when the
        search and the check disagree.
    Cancelled
        When the watch raises it.
    """
    asked = plan or project.wishes.sizing
    tell = _Forward(watch or _unwatched)
    tell(0.0, "Reading what may change")
    with pulse_felt(lambda _: tell(0.0, "Reading what may change")):
        judge = _made(project, asked)
        fast = judge.fast()
    space = judge.space
    present, exact = space.nearest(project)
    split = split_of(judge, space.columns)
    # A laminate spelled in several columns has rows that spell nothing, so its space cannot be run through.
    small = prod(space.columns) == space.count and split.effort <= asked.budget
    hopeless = any(one is not None and one.ratio > 1 for one in fast)
    looks = 0.0 if hopeless else split.effort * _FIRST if small else inf
    with pulse_felt(lambda part: tell(_LOOKED * part, "Judging designs")):
        first = first_looks(judge, space, split, asked, present, looks, _part(tell, 0.0, _LOOKED))
    wanted = Wanted(project, asked, space, split, present, first)
    if hopeless:
        found = unsearched(wanted)
    else:
        found = (proven if small else searched)(
            wanted, running or Running(), _part(tell, _LOOKED, _RUN - _LOOKED)
        )
    showing = _part(tell, _RUN, 1 - _RUN)
    front = _designs(wanted, judge, found, showing, mechanics=mechanics)
    outcome = judge.judge(present[None, :])
    plain = Plain(project, space, judge.demands, judge.standing)
    tell(1.0, "Done")
    return Sized(
        plan=asked,
        names=space.names,
        front=front,
        present=plain.design(present, outcome, 0),
        present_exact=exact,
        space=space.count,
        judged=found.judged,
        ruled_out=found.ruled_out,
        proven=found.proven,
        broken=held_fast(project, judge.demands, fast)
        or (
            ()
            if found.nearest is None
            else broken_of(project, judge.demands, found.nearest, proven=found.proven)
        ),
        notes=(
            *notes_of(project, asked, space.count, found, len(front), mechanics=mechanics),
            *judge.notes,
        ),
    )


def _made(project: Project, plan: SizingPlan) -> Judge:
    """Return what judges the designs; everything wrong with the plan at once."""
    problems = [*problems_of_aims(plan, project)]
    if problems:
        try:
            variables_of(project, plan)
        except StringerlabError as error:
            problems += error.problems
        raise StringerlabError(problems)
    return judging(project, plan)


def _designs(
    wanted: Wanted, judge: Judge, found: Found, watch: Watch, *, mechanics: bool
) -> tuple[Design, ...]:
    """Return the designs shown, judged again by the plain path."""
    genes = found.genes[np.sort(spread_out(found.values, SHOWN))]
    outcome = judge.judge(genes)
    plain = Plain(wanted.project, wanted.space, judge.demands, judge.standing)
    made: list[Design] = []
    for row, one in enumerate(genes):
        part = row / len(genes)
        watch(part, "Judging the best again, one by one")
        design = plain.design(one, outcome, row)
        if mechanics:
            asking = _part(watch, part, 1 / len(genes))
            design = with_mechanics(wanted.project, wanted.space, design, asking)
        made.append(design)
    return tuple(made)


def _part(tell: Watch, first: float, part: float) -> Watch:
    """Return a watch on a part of the work."""
    return lambda done, words: tell(first + part * done, words)


class _Forward:
    """A watch that never goes back, whoever tells it."""

    def __init__(self, watch: Watch) -> None:
        self._watch, self._done = watch, 0.0

    def __call__(self, done: float, words: str) -> None:
        self._done = max(self._done, done)
        self._watch(self._done, words)


def _unwatched(done: float, words: str) -> None:
    del done, words
