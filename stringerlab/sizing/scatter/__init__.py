"""Scatter: hand lay-up varies; how likely every finding is short, and what drives it."""

from stringerlab.sizing.scatter.chances import probability
from stringerlab.sizing.scatter.scattering import scatter
from stringerlab.sizing.scatter.usual import PRACTICE, USUAL

__all__ = ["PRACTICE", "USUAL", "probability", "scatter"]
