"""What a run of many tasks is asked for, and what it gives back."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from numpy.typing import NDArray

Pack = Mapping[str, NDArray[Any] | float | int | str]
"""What one task comes to, by name: arrays, numbers, words; nothing else, so that it can be kept."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Running:
    """How a run is run; its answer is the same however that is."""

    workers: int = 0
    """Processes on this machine. 0: as many as help; 1: none beside the program's own."""
    scheduler: str = ""
    """Address of a Dask cluster's scheduler, which runs the tasks instead."""
    journal: Path | None = None
    """File that keeps what is done, so that a run stopped or killed goes on from there."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Ran:
    """What a run gave, complete or not at all."""

    packs: tuple[Pack, ...]
    """In the order of the tasks."""
    notes: tuple[str, ...] = ()
    """What a person should know of how it went: what a journal held, workers that were lost."""
