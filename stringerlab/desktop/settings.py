"""What the program remembers of a person between runs: one small JSON file, damaged ones begun anew.

It lies in the state folder of the platform, or in the one that ``STRINGERLAB_STATE`` names.
"""

import json
import os
import sys
from contextlib import suppress
from dataclasses import asdict, dataclass, field, fields, replace
from pathlib import Path
from typing import Any, cast
from uuid import uuid4

STATE_VARIABLE = "STRINGERLAB_STATE"
RECENT = 10
"""Files remembered as recent."""
PLACES = 100
"""Files whose last place is remembered."""
SCHEMES = ("system", "paper", "slate")


def state_folder() -> Path:
    """Return the folder for settings and recovery files; it need not exist yet."""
    if named := os.environ.get(STATE_VARIABLE):
        return Path(named)
    home = Path.home()
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or home / "AppData" / "Local") / "stringerlab"
    if sys.platform == "darwin":
        return home / "Library" / "Application Support" / "stringerlab"
    return Path(os.environ.get("XDG_STATE_HOME") or home / ".local" / "state") / "stringerlab"


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a person was in a file: page and what was selected."""

    page: str = ""
    selected: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """Everything remembered."""

    scheme: str = "system"
    """Follow the system, or always paper (light) or slate (dark)."""
    tour_done: bool = False
    problems_shown: bool = False
    geometry: str = ""
    """The window's place on the screen, as Qt saves it, in hexadecimal."""
    recent: tuple[str, ...] = ()
    places: dict[str, Place] = field(default_factory=dict[str, Place])

    def opened(self, path: Path) -> "Settings":
        """Return the settings with a file as the most recent."""
        name = str(path)
        others = tuple(other for other in self.recent if other != name)
        return replace(self, recent=(name, *others)[:RECENT])

    def left(self, path: Path, place: Place) -> "Settings":
        """Return the settings with the place in a file remembered, the longest unused forgotten."""
        places = {name: where for name, where in self.places.items() if name != str(path)}
        places[str(path)] = place
        kept = list(places.items())[-PLACES:]
        return replace(self, places=dict(kept))

    def place(self, path: Path) -> Place:
        """Return the place in a file where a person was last."""
        return self.places.get(str(path), Place())


class Store:
    """The settings file; what cannot be read is taken as unset, what cannot be written is forgotten."""

    def __init__(self, folder: Path | None = None) -> None:
        self.path = (folder or state_folder()) / "settings.json"

    def read(self) -> Settings:
        """Return what is remembered."""
        try:
            given: Any = json.loads(self.path.read_bytes())
        except (OSError, ValueError, RecursionError):
            return Settings()
        return _settings(cast(dict[str, object], given)) if isinstance(given, dict) else Settings()

    def write(self, settings: Settings) -> bool:
        """Remember settings; return whether that could be done."""
        data = json.dumps(asdict(settings), indent=2, ensure_ascii=True).encode()
        return write_whole(self.path, data)


def write_whole(path: Path, data: bytes) -> bool:
    """Write a small file of our own so that it is always whole; return whether that could be done."""
    fresh = path.with_name(f".{path.name}.{uuid4().hex[:8]}.part")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with fresh.open("xb") as opened:
            opened.write(data)
            opened.flush()
            os.fsync(opened.fileno())
        fresh.replace(path)
    except OSError:
        with suppress(OSError):
            fresh.unlink()
        return False
    return True


def _settings(given: dict[str, object]) -> Settings:
    """Return settings from bare JSON, each wrong or missing field as it is unset."""
    kept: dict[str, Any] = {}
    unset = Settings()
    for known in fields(Settings):
        value, default = given.get(known.name), getattr(unset, known.name)
        if type(value) is type(default):
            kept[known.name] = value
    if kept.get("scheme") not in SCHEMES:
        kept.pop("scheme", None)
    recent = given.get("recent")
    if isinstance(recent, list):
        names = [name for name in cast(list[object], recent) if isinstance(name, str)]
        kept["recent"] = tuple(names[:RECENT])
    places = cast(dict[str, object], kept.get("places", {}))
    kept["places"] = {
        name: _place(cast(dict[str, object], p)) for name, p in places.items() if isinstance(p, dict)
    }
    return Settings(**kept)


def _place(given: dict[str, object]) -> Place:
    page, selected = given.get("page"), given.get("selected")
    return Place(
        page=page if isinstance(page, str) else "", selected=selected if isinstance(selected, str) else ""
    )
