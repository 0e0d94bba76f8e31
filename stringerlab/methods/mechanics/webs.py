"""What a span's webs are worth where they are cut, pushed or held: sizes and strengths. mm, MPa."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import nan

import numpy as np

from stringerlab.laminate import shear_strength
from stringerlab.methods.mechanics.records import OWN_CHOICE, LoadedSpan
from stringerlab.section.openings import AlongMember, along_member, crown_height
from stringerlab.units import MPa, Ratio
from stringerlab.workings import Known, formula, weakest


@formula(symbol="sigma_d", source=OWN_CHOICE)
def allowed_stress(n_A: Ratio, sigma_u: MPa) -> MPa:
    """Part of a strength that is allowed."""
    return n_A * sigma_u


@formula(symbol="tau_d", source=OWN_CHOICE)
def allowed_shear(n_A: Ratio, tau_u: MPa) -> MPa:
    """Part of a shear strength that is allowed."""
    return n_A * tau_u


@dataclass(frozen=True, slots=True, kw_only=True)
class Webs:
    """Webs of a span together; nan for what is not there or not known."""

    height: float
    """From the shell to the crown."""
    area: float
    """Σ thickness normal to the web × vertical height."""
    thickness: float
    """Of all together, as of webs upright."""
    E: float
    """Along the member, of the laminate that fails first."""
    tension: float
    compression: float
    tau: float
    mark: Known
    crown_width: float
    crown_thickness: float

    @property
    def strength(self) -> float:
        """The weaker of tension and compression."""
        return float(np.minimum(self.tension, self.compression))


def webs_of(loaded: LoadedSpan) -> Webs:
    """Return what a span's webs are worth."""
    facts = loaded.facts
    height = crown_height(facts.shape.walls, facts.deadrise)
    along = [along_member(stack) for stack in facts.web_stacks]
    shear = [shear_strength(stack) for stack in facts.web_stacks]
    weak = _weakest(along)
    return Webs(
        height=height,
        area=facts.web_area,
        thickness=facts.web_area / height if height > 0 else nan,
        E=weak[0],
        tension=weak[1],
        compression=weak[2],
        tau=float(np.min([tau for tau, _ in shear])) if shear else nan,
        mark=weakest([*(one[3] for one in along), *(known for _, known in shear)], default=Known.ESTIMATE),
        crown_width=_there(facts.crown_width),
        crown_thickness=_there(facts.crown_thickness),
    )


def _weakest(along: Sequence[AlongMember]) -> AlongMember:
    """Return the laminate that fails at the least strain; one that lacks a strength comes first."""
    if not along:
        return nan, nan, nan, Known.ESTIMATE
    strains = [float(np.minimum(tension, compression)) / E for E, tension, compression, _ in along]
    return along[int(np.argmin(np.where(np.isnan(strains), -np.inf, strains)))]


def _there(size: float) -> float:
    return 0.0 if np.isnan(size) else size
