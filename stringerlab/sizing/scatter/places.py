"""Where samples are taken: replicates of a Sobol sequence, each scrambled on its own, in parts a task does.

A part is known by its replicate and where in it it begins, so that whoever does it takes the same places.
"""

import warnings
from dataclasses import dataclass
from math import ceil

import numpy as np

from stringerlab.workings import Array

REPLICATES = 16
"""Scrambled on their own, so that how they differ says how sure their mean is."""
AT_ONCE = 4096
"""Samples a task does at the most: a power of two, as the sequence likes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A part of one replicate: ``count`` samples from ``first`` on."""

    replicate: int
    first: int
    count: int


def parts(samples: int) -> tuple[Part, ...]:
    """Return the parts of at least so many samples, as many in every replicate."""
    each = ceil(samples / REPLICATES)
    return tuple(
        Part(replicate=replicate, first=first, count=min(AT_ONCE, each - first))
        for replicate in range(REPLICATES)
        for first in range(0, each, AT_ONCE)
    )


def places(part: Part, inputs: int, seed: int) -> Array:
    """Return the places of a part, (count, inputs) between 0 and 1."""
    from scipy.stats import qmc

    if not inputs:
        return np.empty((part.count, 0))
    scrambled = np.random.default_rng([seed, part.replicate])
    sequence = qmc.Sobol(inputs, scramble=True, rng=scrambled)
    if part.first:
        sequence.fast_forward(part.first)
    with warnings.catch_warnings():
        # a part that is no power of two is the head of one that is
        warnings.simplefilter("ignore", UserWarning)
        return np.asarray(sequence.random(part.count), np.float64)
