"""Findings of panels and spans kept by value: of a boat a step away only what the step touches is judged.

A case is a panel or span with everything resolved that its judging reads, but for the boat and the method:
equal ones of the same boat have equal findings.
"""

from collections import OrderedDict
from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import fields, replace
from threading import Lock
from typing import TypeVar, cast

from stringerlab.layout import PanelCase, SpanCase
from stringerlab.methods import Finding, Method

MOST = 1024
"""Cases kept, those used last: of the largest boat some steps of each kind. About 10 MB."""
_Case = TypeVar("_Case", PanelCase, SpanCase)


class Kept:
    """Findings by what they are of, without their workings: they take little room. Threads may share them."""

    def __init__(self, most: int = MOST) -> None:
        self._most = most
        self._lock = Lock()
        self._held: OrderedDict[Hashable, tuple[Finding, ...]] = OrderedDict()
        self.judged = 0
        """How many cases were not at hand."""

    def findings(
        self,
        under: Hashable,
        cases: Sequence[_Case],
        judge: Callable[[Sequence[_Case]], Sequence[Finding]],
    ) -> tuple[Finding, ...]:
        """Return the findings of cases, one case after another; judged together are those not at hand.

        Parameters
        ----------
        under
            What else the findings come of: boat, method by ``key_of``, what is judged.
        cases
            Panels or spans, each with an id of its own.
        judge
            Returns the findings of some of them.
        """
        with self._lock:
            found = {_id(case): self._held.get((under, case)) for case in cases}
        new = [case for case in cases if found[_id(case)] is None]
        here: dict[str, list[Finding]] = {_id(case): [] for case in new}
        for one in judge(new) if new else ():
            here[one.subject].append(replace(one, steps=(), recording=None))
        found.update({id_: tuple(each) for id_, each in here.items()})
        with self._lock:
            self.judged += len(new)
            for case in cases:
                self._held[under, case] = found[_id(case)] or ()
                self._held.move_to_end((under, case))
            while len(self._held) > self._most:
                self._held.popitem(last=False)
        return tuple(one for case in cases for one in found[_id(case)] or ())


def key_of(method: Method) -> Hashable:
    """Return a method as a key: equal for methods that judge alike, whatever they are called by.

    Two methods of one id are two keys where any of their functions or values differ.
    """
    held = (getattr(method, field.name) for field in fields(method))
    return tuple(
        frozenset(cast(Mapping[Hashable, Hashable], one).items()) if isinstance(one, Mapping) else one
        for one in held
    )


def _id(case: PanelCase | SpanCase) -> str:
    return case.panel.id if isinstance(case, PanelCase) else case.span.id
