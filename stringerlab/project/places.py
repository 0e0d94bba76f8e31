"""How a place in a project is said to a person: ``section 'Main stringer' (s3), wall 2 (w4), point 4, z``.

A path is the steps from the project down, field names and numbers from 0. It may lead through the
records or through a file's bare JSON, which need not be right.
"""

from collections.abc import Mapping, Sequence
from dataclasses import is_dataclass
from typing import cast

Path = tuple[str | int, ...]

SINGULAR = {
    "adhesives": "adhesive",
    "anchors": "anchor",
    "bays": "panel",
    "cavities": "cavity",
    "combinations": "combination",
    "coupons": "coupon set",
    "cores": "core",
    "crossings": "crossing",
    "ends": "end",
    "equipment": "equipment",
    "feet": "foot",
    "fibres": "fibre",
    "fillets": "fillet",
    "fills": "fill",
    "gel_coats": "gel coat",
    "laminates": "laminate",
    "landings": "landing",
    "laps": "lap",
    "layers": "layer",
    "layouts": "layout",
    "likenesses": "likeness",
    "lines": "line",
    "members": "member",
    "openings": "opening",
    "panels": "panel",
    "parts": "part",
    "plies": "ply",
    "points": "point",
    "prices": "price",
    "reinforcements": "reinforcement",
    "resins": "resin",
    "sections": "section",
    "solids": "solid",
    "spans": "span",
    "stations": "station",
    "stretches": "stretch",
    "walls": "wall",
    "zones": "zone",
}
_PAIRS = {
    "points": ("y", "z"),
    "laps": ("first wall", "second wall"),
}
_IN_PLAN = {
    "points": ("x", "y"),
    "anchors": ("x", "y"),
    "feet": ("x", "y"),
    "at": ("x", "y"),
    "between": ("first node", "second node"),
}
"""Of what stands in a layout."""
_LONGEST = 60


def place(document: object, path: Path) -> str:
    """Return the words for a place; things go by name and id where they have them, else numbered from 1.

    Parameters
    ----------
    document
        The project: its record, or the JSON object of a file.
    path
        Steps from the project down; steps that lead nowhere are said as they are.
    """
    words: list[str] = []
    here, listed = document, ""
    plan = path[:1] == ("layouts",)
    for depth, step in enumerate(path):
        here = child(here, step)
        if isinstance(step, str):
            listed = step
            if depth == len(path) - 1 or not (step in SINGULAR or step == "materials"):
                words.append(shortened(step))
        elif depth and (isinstance(path[depth - 1], int) or (plan and listed in ("at", "between"))):
            pair = (_IN_PLAN if plan else _PAIRS).get(listed, ())
            words.append(pair[step] if step < len(pair) else f"number {step + 1}")
        else:
            words.append(_item(listed, step, here))
    return ", ".join(words)


def child(here: object, step: str | int) -> object:
    """Return what lies one step down in a record or in bare JSON, None where there is nothing."""
    if isinstance(step, int):
        if isinstance(here, (tuple, list)):
            items = cast(Sequence[object], here)
            return items[step] if 0 <= step < len(items) else None
        return None
    if isinstance(here, Mapping):
        return cast(Mapping[str, object], here).get(step)
    return cast(object, getattr(here, step, None)) if is_dataclass(here) else None


def _item(listed: str, number: int, thing: object) -> str:
    word = SINGULAR.get(listed, listed or "item")
    name, identity = child(thing, "name"), child(thing, "id")
    known = f" ({shortened(identity)})" if isinstance(identity, str) and identity else ""
    if isinstance(name, str) and name:
        return f"{word} '{shortened(name)}'{known}"
    return f"{word} {number + 1}{known}"


def shortened(text: str) -> str:
    """Return text short and plain enough for one line of a message."""
    line = text if len(text) <= _LONGEST else f"{text[: _LONGEST - 1]}…"
    return line if line.isprintable() else "".join(c if c.isprintable() else "·" for c in line)
