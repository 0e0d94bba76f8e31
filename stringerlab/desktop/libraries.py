"""The system libraries that a window on Linux needs, and the Debian package that brings each.

Known without Qt: a missing one would otherwise end the program with a message that names no package.
"""

import ctypes
import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from stringerlab.errors import Problem


@dataclass(frozen=True, slots=True)
class Library:
    """A shared library and the Debian package it comes in."""

    file: str
    package: str


ALWAYS = (
    Library("libGL.so.1", "libgl1"),
    Library("libEGL.so.1", "libegl1"),
    Library("libglib-2.0.so.0", "libglib2.0-0"),
    Library("libgthread-2.0.so.0", "libglib2.0-0"),
    Library("libfontconfig.so.1", "libfontconfig1"),
    Library("libdbus-1.so.3", "libdbus-1-3"),
    Library("libxkbcommon.so.0", "libxkbcommon0"),
)
"""Needed even without a screen."""
ON_A_SCREEN = (
    Library("libxcb-cursor.so.0", "libxcb-cursor0"),
    Library("libxcb-icccm.so.4", "libxcb-icccm4"),
    Library("libxcb-keysyms.so.1", "libxcb-keysyms1"),
    Library("libxcb-render-util.so.0", "libxcb-render-util0"),
    Library("libxcb-shape.so.0", "libxcb-shape0"),
    Library("libxcb-xkb.so.1", "libxcb-xkb1"),
    Library("libxkbcommon-x11.so.0", "libxkbcommon-x11-0"),
)
"""Needed besides for a window under X11."""


def screen_problem(environment: Mapping[str, str], platform: str = sys.platform) -> Problem | None:
    """Return what is wrong when there is no screen to open a window on, None when there is one."""
    if not platform.startswith("linux") or environment.get("QT_QPA_PLATFORM"):
        return None
    if environment.get("DISPLAY") or environment.get("WAYLAND_DISPLAY"):
        return None
    return Problem(
        "There is no screen to open a window on: neither DISPLAY nor WAYLAND_DISPLAY is set.",
        remedy="Start it on a desktop, or use the command line: stringerlab --help.",
    )


def library_problem(
    environment: Mapping[str, str],
    platform: str = sys.platform,
    load: Callable[[str], object] = ctypes.CDLL,
) -> Problem | None:
    """Return which libraries are missing and the packages that bring them, None when all are there.

    Parameters
    ----------
    environment
        Of the process: which platform of Qt is asked for.
    platform
        As ``sys.platform``; only Linux is looked at.
    load
        Loads a library by its file name, raising OSError.
    """
    if not platform.startswith("linux"):
        return None
    asked = environment.get("QT_QPA_PLATFORM", "")
    under_x = asked.startswith("xcb") or (not asked and not environment.get("WAYLAND_DISPLAY"))
    missing = [
        library for library in (*ALWAYS, *(ON_A_SCREEN if under_x else ())) if not _loads(library, load)
    ]
    if not missing:
        return None
    files = ", ".join(library.file for library in missing)
    packages = " ".join(dict.fromkeys(library.package for library in missing))
    return Problem(
        f"The window needs system libraries that are not installed: {files}.",
        remedy=f"On Debian: apt install {packages}. The command line works without: stringerlab --help.",
    )


def _loads(library: Library, load: Callable[[str], object]) -> bool:
    try:
        load(library.file)
    except OSError:
        return False
    return True
