"""Older files made into today's: one pure function a version, from its bare JSON to that of the next."""

from collections.abc import Callable, Sequence
from typing import Any

from stringerlab.errors import Problem, StringerlabError

Step = Callable[[dict[str, Any]], dict[str, Any]]
"""From the whole file's JSON in one version to the next; it need not touch ``version``."""


def _may_say_more(document: dict[str, Any]) -> dict[str, Any]:
    """Return a file of version 1 as it is: version 2 only lets more be said.

    Surfaces, zones, pans, layered fabrics, coupons, rates, a parent boat; each has a default.
    """
    return document


def _may_draw_layouts(document: dict[str, Any]) -> dict[str, Any]:
    """Return a file of version 2 as it is: version 3 only lets layouts be drawn, none by default."""
    return document


def _may_ask_for_more(document: dict[str, Any]) -> dict[str, Any]:
    """Return a file of version 3 as it is: version 4 only lets sizing, scatter and studies be asked for."""
    return document


STEPS: tuple[Step, ...] = (_may_say_more, _may_draw_layouts, _may_ask_for_more)
"""The step from version n to n + 1 stands at n − 1."""
VERSION = len(STEPS) + 1
"""The version written."""


def migrated(document: dict[str, Any], where: str, steps: Sequence[Step] = STEPS) -> dict[str, Any]:
    """Return a file's JSON in today's version, itself when it is so already.

    Raises
    ------
    StringerlabError
        When its version is missing, never was, or is newer than this program.
    """
    today = len(steps) + 1
    version = document.get("version")
    if isinstance(version, bool) or not isinstance(version, int):
        raise StringerlabError(
            Problem(
                "The file does not say its version."
                if version is None
                else "Its version is no whole number.",
                where,
                f'Write "version": {today} if it is a file of this program.',
            )
        )
    if version > today:
        raise StringerlabError(
            Problem(
                f"The file is of version {version}; the newest this program reads is {today}.",
                where,
                "Open it with a newer stringerlab. The file is left as it is.",
            )
        )
    if version < 1:
        raise StringerlabError(
            Problem(f"There never was a version {version}.", where, f"Versions are 1 to {today}.")
        )
    for step in steps[version - 1 :]:
        document = step(document)
    return document if version == today else {**document, "version": today}
