"""A glass content by volume: recognised and refused, with the share by mass it would be; never converted."""

import re
from collections.abc import Mapping
from typing import Any, cast

from stringerlab.errors import Problem
from stringerlab.materials.estimates import fibre_mass
from stringerlab.materials.records import Fibre, Resin
from stringerlab.units import rounded
from stringerlab.units.reading import says_by_volume

_NAMES = re.compile(r"vol|^v_?f$|^f(?:ib(?:re|er))?vf$", re.IGNORECASE)
_NUMBER = re.compile(r"[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+")


def named_by_volume(key: str) -> bool:
    """Return whether a key of a row names a content by volume: ``glass_by_volume``, ``Vf``."""
    return _NAMES.search(key) is not None


def given_by_volume(raw: object) -> bool:
    """Return whether a glass content says it counts by volume: ``"35 vol%"``, a table with such a unit."""
    if isinstance(raw, str):
        return says_by_volume(raw)
    if isinstance(raw, Mapping):
        entries = cast(Mapping[str, Any], raw)
        unit = entries.get("unit")
        return (isinstance(unit, str) and says_by_volume(unit)) or given_by_volume(entries.get("value"))
    return False


def share_said(raw: object) -> float | None:
    """Return the share that was given, as a ratio; None when there is no number from 0 to 100 in it."""
    if isinstance(raw, Mapping):
        return share_said(cast(Mapping[str, Any], raw).get("value"))
    if isinstance(raw, str):
        match = _NUMBER.search(raw)
        number = float(match[0].replace(",", ".")) if match else -1.0
    elif isinstance(raw, int | float) and not isinstance(raw, bool):
        number = float(raw)
    else:
        return None
    share = number if number <= 1 else number / 100
    return share if 0 < share < 1 else None


def by_volume_problem(share: float | None, fibre: Fibre | None, resin: Resin | None, where: str) -> Problem:
    """Return what is said of a glass content by volume.

    Parameters
    ----------
    share
        The share by volume, None when it does not read.
    fibre, resin
        What the row is made of, None when there is none of that id.
    where
        The row and field.
    """
    what = "is a glass content by volume; it is by mass here, and nothing is converted unasked."
    if share is None or fibre is None or resin is None:
        return Problem(what, where, "Write glass = the share by mass.")
    mass = float(fibre_mass(share, fibre.density.value, resin.density.value))
    words = (
        f"Write glass = {rounded(mass, 3)} if {rounded(share, 3)} by volume is right: so it is by mass "
        f"for {fibre.name} in {resin.name}."
    )
    return Problem(what, where, words)
