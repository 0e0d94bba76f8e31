"""A beam grid: bending with shear and torsion, springs, many loads at once, envelopes; it checks itself."""

from stringerlab.grillage.enveloping import envelope
from stringerlab.grillage.factored import Factored
from stringerlab.grillage.frequencies import natural_frequencies
from stringerlab.grillage.point_loads import point_loads
from stringerlab.grillage.records import Envelope, Grid, Loads, Solved
from stringerlab.grillage.solving import solve

__all__ = [
    "Envelope",
    "Factored",
    "Grid",
    "Loads",
    "Solved",
    "envelope",
    "natural_frequencies",
    "point_loads",
    "solve",
]
