"""Size for me: lighter designs within what may change, that hold what must hold; found, or proven the best.

A space whose parts can all be judged within the budget is proven: every design judged or ruled out. A larger
one is searched. Either way every design shown is judged again by the plain path.
"""

from collections.abc import Iterator
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
from stringerlab.sizing.searching.broken import broken_of
from stringerlab.sizing.searching.designs import Plain, with_mechanics
from stringerlab.sizing.searching.front import spread_out
from stringerlab.sizing.searching.notes import notes_of
from stringerlab.sizing.searching.runs import Found, Wanted, first_looks, hopeless, proven, searched
from stringerlab.sizing.searching.splitting import split_of
from stringerlab.sizing.searching.tasks import judging

SHOWN = 60
"""How many designs of the front are judged again and shown; where there are more, evenly along it."""
_FIRST = 0.05
"""Part of the work of proving a space that is spent before on finding what rules out most of it."""
_TRYING = "Trying what nothing here changes"
_TRIED, _LOOKED, _RUN = 0.05, 0.1, 0.9
"""Parts of the whole done once it is tried what stands, after the first looks, and after the run."""
_PLAIN = 0.2
"""Part of the work on a design shown that the plain path is, where mechanics and grid are asked too."""


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
    with pulse_felt(lambda _: tell(0.0, _TRYING)):
        fast = judge.fast(lambda part: tell(_TRIED * part, _TRYING))
    space = judge.space
    present, exact = space.nearest(project)
    split = split_of(judge, space.columns)
    # A laminate spelled in several columns has rows that spell nothing, so its space cannot be run through.
    small = prod(space.columns) == space.count and split.effort <= asked.budget
    others = [place for place, one in enumerate(fast) if one is None or one.ratio <= 1]
    broken = len(others) < len(fast)
    looks = 0.0 if broken else split.effort * _FIRST if small else inf
    looking = _part(tell, _TRIED, _LOOKED - _TRIED)
    with pulse_felt(lambda part: looking(part, "Judging designs")):
        first = first_looks(judge, space, split, asked, present, looks, looking)
    wanted = Wanted(project, asked, space, split, present, first)
    where, during = running or Running(), _part(tell, _LOOKED, _RUN - _LOOKED)
    if broken:
        found = hopeless(wanted, others, where, during, small=small)
    else:
        found = (proven if small else searched)(wanted, where, during)
    showing = _part(tell, _RUN, 1 - _RUN)
    now, boat, *front = _designs(wanted, judge, found, showing, exact=exact, mechanics=mechanics)
    assert now is not None
    tell(1.0, "Done")
    return Sized(
        plan=asked,
        names=space.names,
        front=tuple(one for one in front if one is not None),
        present=now,
        present_exact=exact,
        space=space.count,
        judged=found.judged,
        ruled_out=found.ruled_out,
        proven=found.proven,
        broken=broken_of(
            project,
            judge.demands,
            fast,
            found.nearest,
            proven=found.proven and not found.held_fast,
        ),
        notes=(
            *notes_of(project, asked, space.count, found, len(front), mechanics=mechanics),
            *judge.notes,
        ),
        boat=boat,
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
    wanted: Wanted, judge: Judge, found: Found, watch: Watch, *, exact: bool, mechanics: bool
) -> Iterator[Design | None]:
    """Yield the present design, the boat where she is none, and the front: by the plain path."""
    shown = found.genes[np.sort(spread_out(found.values, SHOWN))]
    genes = np.concatenate([wanted.present[None, :], shown])
    with pulse_felt(lambda _: watch(0.0, "Judging the best")):
        outcome = judge.judge(genes)
    plain = Plain(wanted.project, wanted.space, judge.demands, judge.standing)
    each = 1 / (len(genes) + 1)
    share = _PLAIN if mechanics else 1.0
    for row, one in enumerate(genes):
        first = (row + (row > 0)) * each
        design = plain.design(one, outcome, row, _part(watch, first, share * each))
        if mechanics:
            changed = wanted.space.applied(wanted.project, one)
            asking = _part(watch, first + share * each, (1 - share) * each)
            design = with_mechanics(changed, design, asking)
        yield design
        if row == 0:
            yield None if exact else _boat(wanted, plain, _part(watch, each, each), mechanics=mechanics)


def _boat(wanted: Wanted, plain: Plain, watch: Watch, *, mechanics: bool) -> Design:
    """Return the boat as she truly is."""
    share = _PLAIN if mechanics else 1.0
    boat = plain.boat(wanted.present, _part(watch, 0.0, share))
    if not mechanics:
        return boat
    return with_mechanics(wanted.project, boat, _part(watch, share, 1 - share))


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
