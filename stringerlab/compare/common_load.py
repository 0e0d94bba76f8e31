"""How a layout's grid stands up to one common load: an even pressure on the whole bottom. N, mm.

Load shared by the grid, by yield lines, with the grid's own supports; what goes straight to chine, transom
or a bulkhead bends no member. First principles, and no rule's load: it only makes layouts comparable.
"""

from dataclasses import dataclass, replace

import numpy as np

from stringerlab.assess.grid.beams import beams_of, members_at
from stringerlab.assess.grid.extremes import deflections
from stringerlab.assess.grid.ground import ground_of
from stringerlab.assess.grid.records import Array, Index, names_of
from stringerlab.assess.grid.shares import shares_of
from stringerlab.assess.grid.supports import springs_of
from stringerlab.craft import Bottom
from stringerlab.errors import Problem, StringerlabError
from stringerlab.grillage import Factored, Loads, solve
from stringerlab.methods import method_named
from stringerlab.project import Project, Resolved
from stringerlab.units import Kind, System, format

PRESSURE = 0.001
"""1 kN/m², in MPa."""
_STEPS = 48
"""Along a beam, between whose ends its deflection runs straight."""


def load_words(system: System = System.METRIC) -> str:
    """Return the common load in words."""
    return f"an even {format(PRESSURE, Kind.PRESSURE, system, digits=3)} on the whole bottom"


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What the common load does to a grid."""

    deflection: float
    """Greatest inboard, anywhere along the members [mm]."""
    energy: float
    """Stored in members and springs: half the load times what it moves [N·mm]."""
    carried: float
    """Part of the load that goes to members."""
    notes: tuple[str, ...]


def under_common_load(project: Project, resolved: Resolved, hull: Bottom) -> Answer:
    """Return what the common load does to the grid of the layout in use.

    Raises
    ------
    StringerlabError
        With what is wrong with the grid: a member without stiffness, one that nothing holds.
    """
    ground = ground_of(project, resolved)
    if ground is None or not ground.spans:
        raise StringerlabError(Problem("No span of the layout can be judged.", f"boat '{project.name}'"))
    beams = beams_of(ground, hull, method_named(project.method))
    springs = springs_of(ground, hull, beams)
    beams = replace(beams, grid=replace(beams.grid, springs=springs.springs))
    words = {member.id: member.name for member in ground.layout.members}
    factored = Factored.of(beams.grid, names_of(beams, words, members_at(ground, beams)))
    shares = shares_of(ground, hull, beams)
    force = np.asarray(shares.to @ (shares.pieces.area * PRESSURE)).reshape(-1, 1)
    solved = solve(factored, Loads(beam=shares.beam, along=shares.along, amount=force), places=_STEPS + 1)
    w = deflections(factored, solved)[:, :, 0]
    return Answer(
        deflection=float(w.max()),
        energy=float(force[:, 0] @ _at(w, shares.beam, shares.along)) / 2,
        carried=shares.tally.beams / shares.tally.total if shares.tally.total > 0 else 0.0,
        notes=(*beams.notes, *springs.notes),
    )


def _at(w: Array, beam: Index, along: Array) -> Array:
    """Return deflections (k,) at places along beams, of those (m, s) at equal steps along each."""
    place = along * _STEPS
    low = np.minimum(np.floor(place).astype(np.intp), _STEPS - 1)
    part = place - low
    return w[beam, low] * (1 - part) + w[beam, low + 1] * part


__all__ = ["PRESSURE", "Answer", "load_words", "under_common_load"]
