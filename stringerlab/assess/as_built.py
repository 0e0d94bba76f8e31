"""A boat as drawn against the same boat as built: what changed, verdicts first."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

from stringerlab.assess.check import Results, Watch, check
from stringerlab.assess.mechanics import TOPICS, Topic
from stringerlab.errors import Problem, StringerlabError
from stringerlab.methods import Aspect, Finding, Method, Verdict
from stringerlab.project import Project
from stringerlab.project.as_built import as_built
from stringerlab.project.problems import book_of

RELATIVE = 1e-9
"""Part by which a utilisation must differ to have changed."""
_WORSE = (Verdict.ADVICE, Verdict.HOLDS, Verdict.TIGHT, Verdict.NOT_JUDGED, Verdict.SHORT)
"""Verdicts from good to bad."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One finding as drawn and as built, and at least one of the two."""

    subject: str
    name: str
    aspect: Aspect
    before: Finding | None
    """None where it comes only of the part as built."""
    after: Finding | None
    """None where it is no longer asked."""

    @property
    def verdict_changed(self) -> bool:
        """Whether the verdict is another."""
        return _verdict(self.before) is not _verdict(self.after)

    @property
    def worse(self) -> bool:
        """Whether the verdict is a worse one."""
        before, after = _verdict(self.before), _verdict(self.after)
        return before is not None and after is not None and _WORSE.index(after) > _WORSE.index(before)

    @property
    def growth(self) -> float:
        """By what part utilisation grew; inf where either has none."""
        before, after = _use(self.before), _use(self.after)
        if before is None or after is None:
            return inf
        return after / before - 1 if before else (inf if after else 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class AsBuiltResults:
    """Both checks, and what changed between them."""

    drawn: Results
    built: Results
    changes: tuple[Change, ...]


def check_as_built(
    project: Project,
    method: Method | str | None = None,
    watch: Watch | None = None,
    *,
    topics: Sequence[Topic] = TOPICS,
) -> AsBuiltResults:
    """Judge a project as drawn and as built.

    Raises
    ------
    StringerlabError
        When nothing was measured, something measured is wrong (all of it at once), or there is no such
        method.
    """
    if project.as_built is None:
        raise StringerlabError(
            Problem(
                "Nothing was measured.", "as built", "Put in what the shop measured, on the Laminates page."
            )
        )
    built = as_built(project, book_of(project))
    drawn = check(project, method, _half(watch, 0.0), topics=topics)
    results = check(built, method, _half(watch, 0.5), topics=topics)
    return AsBuiltResults(drawn=drawn, built=results, changes=changes(drawn, results))


def changes(before: Results, after: Results) -> tuple[Change, ...]:
    """Return what differs between two checks: worse verdicts, better ones, then by growth of utilisation.

    Findings are matched by subject and aspect; what is the same in both is left out.
    """
    old = {finding.key: finding for finding in before.findings}
    new = {finding.key: finding for finding in after.findings}
    found: list[Change] = []
    for key in dict.fromkeys((*old, *new)):
        one, other = old.get(key), new.get(key)
        if _same(one, other):
            continue
        shown = other or one
        assert shown is not None
        found.append(
            Change(subject=shown.subject, name=shown.name, aspect=shown.aspect, before=one, after=other)
        )
    return tuple(sorted(found, key=_order))


def _order(change: Change) -> tuple[bool, bool, float]:
    return not change.worse, not change.verdict_changed, -abs(change.growth)


def _same(one: Finding | None, other: Finding | None) -> bool:
    if one is None or other is None or one.verdict is not other.verdict:
        return False
    before, after = one.utilisation, other.utilisation
    if before is None or after is None:
        return before is after
    return abs(after - before) <= RELATIVE * max(abs(before), abs(after))


def _verdict(finding: Finding | None) -> Verdict | None:
    return None if finding is None else finding.verdict


def _use(finding: Finding | None) -> float | None:
    return None if finding is None else finding.utilisation


def _half(watch: Watch | None, begins: float) -> Watch | None:
    """Return a watch for one of two checks."""
    if watch is None:
        return None
    return lambda fraction, words: watch(begins + fraction / 2, words)
