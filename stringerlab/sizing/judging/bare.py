"""Sections without their plating, n of them: what hats in batches and drawn sections both give. N, mm, MPa.

Heights are above the shell's inboard face, up; fibres (k, n), padded with nan.
"""

from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from stringerlab.sizing.judging.lookups import Index
from stringerlab.sizing.records import Genes, Mask
from stringerlab.workings import Array


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Bare:
    """n sections, each (n,), fibres (k, n); what is not sound is nan or nonsense."""

    sound: Mask
    EA: Array
    z_na: Array
    EI: Array
    """About its own neutral axis."""
    E: Array
    z_top: Array
    z_bottom: Array
    tension: Array
    compression: Array
    """Strengths as the method takes them."""
    base_width: Array
    height: Array
    web_area: Array
    web_tau: Array
    web_depth: Array
    web_thickness: Array
    crown_width: Array
    crown_thickness: Array
    free_edge: NDArray[np.bool_]
    mass: Array
    """Of a millimetre of it [kg], as the next."""
    cost: Array
    hours: Array
    exact: Index | None = None
    """Number of each where it is not level, so that plating cannot simply be put to it; −1 where it is."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Whole:
    """n sections with their plating: stiffness (n,), and fibres (k, n) by their furthest heights."""

    EI: Array
    E: Array
    z: Array
    """From the neutral axis, up."""
    tension: Array
    compression: Array


class Source(Protocol):
    """What gives a section of every design."""

    columns: tuple[int, ...]
    """Of genes it depends on."""

    def bare(self, genes: Genes) -> Bare:
        """Return the section of every design, without plating."""
        ...

    def exactly(self, number: int, plating: int, width: float) -> "Exact":
        """Return what a section that is not level is worth with so much of a plating."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Exact:
    """One section with its plating: fibres (k,); nan where nothing carries."""

    EI: float
    E: Array
    z: Array
    tension: Array
    compression: Array


__all__ = ["Bare", "Exact", "Source", "Whole"]
