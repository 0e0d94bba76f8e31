"""Whether the patches' step is fine enough: what half of it changes of the envelope."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from stringerlab.assess.grid.analysing import Watch, analysed
from stringerlab.assess.grid.records import GridResults, SpanExtremes
from stringerlab.methods import Method

ALLOWED = 0.01
"""Of the greatest moment or shear of a span."""
COARSEST = 0.5
"""A patch lies on its subject, and half on either neighbour, at the least."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StepChange:
    """What half the step changes: at most, as a part of the span's greatest moment or shear, and where."""

    part: float
    span: str
    what: str

    @property
    def is_fine(self) -> bool:
        """Whether the step is fine enough."""
        return self.part < ALLOWED


def step_change(results: GridResults, method: Method, watch: Watch | None = None) -> StepChange:
    """Return what half the patches' step changes of a solved grid's envelope.

    Parameters
    ----------
    results
        Of the layout's own step, with an envelope.
    method
        That loaded it.
    watch
        Told of progress; what it raises stops the work.
    """
    ground = results.ground
    halved = analysed(
        ground, method, watch, step=min(ground.layout.rules.step, COARSEST) / 2, frequencies=False
    )
    worst = StepChange(part=0.0, span="", what="moment")
    for one in results.spans.values():
        for part, what in _changes(one, halved.spans[one.id]):
            if part > worst.part:
                worst = StepChange(part=part, span=one.name, what=what)
    return worst


def _changes(one: SpanExtremes, other: SpanExtremes) -> Iterator[tuple[float, str]]:
    moment = max(other.M_max.value, -other.M_min.value)
    if moment > 0:
        yield abs(other.M_max.value - one.M_max.value) / moment, "moment"
        yield abs(other.M_min.value - one.M_min.value) / moment, "moment"
    if other.V.value > 0:
        yield abs(other.V.value - one.V.value) / other.V.value, "shear"


def with_step_said(results: GridResults, method: Method, watch: Watch | None = None) -> GridResults:
    """Return results that say what half the patches' step changes."""
    if not results.is_solved:
        return results
    found = step_change(results, method, watch)
    step = results.ground.layout.rules.step
    said = (
        f"half the patches' step of {step:g} changes no span's moment or shear by more than {found.part:.1%}"
    )
    if not found.is_fine:
        said = (
            f"half the patches' step of {step:g} changes the {found.what} of {found.span} by "
            f"{found.part:.1%}, more than {ALLOWED:.0%}: lessen the step"
        )
    return replace(results, notes=(*results.notes, said))
