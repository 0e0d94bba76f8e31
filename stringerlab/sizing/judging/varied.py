"""Numbers of panels and spans given by hand that columns of genes decide. mm."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from stringerlab.layout import Panel, Span
from stringerlab.sizing.records import Genes, Mask
from stringerlab.workings import Array


@dataclass(frozen=True, slots=True, eq=False)
class Varied:
    """A number that a column of genes decides: its value at every choice, and whether that may be."""

    column: int
    values: Array
    sound: Mask


@dataclass(frozen=True, slots=True, eq=False)
class Sizes:
    """A subject's own sizes, some of which change."""

    subject: Panel | Span
    varied: Mapping[str, Varied] = field(default_factory=dict[str, Varied])
    """By field."""

    @property
    def columns(self) -> tuple[int, ...]:
        """Of genes they depend on."""
        return tuple(sorted({one.column for one in self.varied.values()}))

    def of(self, genes: Genes, name: str) -> Array:
        """Return a size of every design (n,), or one for all ()."""
        varied = self.varied.get(name)
        if varied is None:
            return np.asarray(getattr(self.subject, name), float)
        return varied.values[genes[:, varied.column]]

    def sound(self, genes: Genes) -> Mask:
        """Return whether every size is in its range (n,); of a panel, whether b is the short side."""
        sound = np.ones(len(genes), np.bool_)
        for one in self.varied.values():
            sound &= one.sound[genes[:, one.column]]
        if self.varied and isinstance(self.subject, Panel):
            sound &= self.of(genes, "b") <= self.of(genes, "l")
        return sound


__all__ = ["Sizes", "Varied"]
