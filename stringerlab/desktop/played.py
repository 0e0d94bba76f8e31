"""Pictures with Qt paths made: kept by what they outline, so that only what changed is made anew. mm."""

from collections.abc import Callable, Iterable
from typing import Any

import numpy as np
from PySide6.QtGui import QPainterPath, QPolygonF
from shiboken6 import VoidPtr

from stringerlab.drawing import Area, Label, Line, Mark, Picture, Ticks
from stringerlab.drawing.display import Points

_Outlined = Area | Line | Ticks
_Memory: Any = VoidPtr
"""Takes where, how many bytes, and whether to write; its own annotation knows only the first."""


class Played:
    """A picture with its paths made."""

    def __init__(self, picture: Picture, paths: dict[bytes, QPainterPath] | None = None) -> None:
        self.picture = picture
        known = paths or {}
        self._by_outline: dict[bytes, QPainterPath] = {}
        self.items: list[tuple[_Outlined, QPainterPath | None] | tuple[Label | Mark, None]] = []
        """Items from back to front, with the path of those that have one."""
        self.made = 0
        """Paths made, not reused."""
        for item in picture:
            match item:
                case Area():
                    self.items.append((item, self._path(known, item.rings, closed=True)))
                case Line():
                    self.items.append((item, self._path(known, (item.points,), closed=item.closed)))
                case Ticks():
                    strokes = None if item.size is not None else self._strokes(known, item)
                    self.items.append((item, strokes))
                case Label() | Mark():
                    self.items.append((item, None))

    def updated(self, picture: Picture) -> "Played":
        """Return another picture with paths made; outlines that are in this one too keep theirs."""
        return self if picture is self.picture else Played(picture, self._by_outline)

    def path(self, subject: str) -> QPainterPath:
        """Return all that is outlined of a subject together, in mm; empty when there is none."""
        whole = QPainterPath()
        for item, path in self.items:
            if path is not None and item.subject == subject:
                whole.addPath(path)
        return whole

    def _path(
        self, known: dict[bytes, QPainterPath], lines: tuple[Points, ...], *, closed: bool
    ) -> QPainterPath:
        key = (b"1" if closed else b"0") + b"|".join(line.tobytes() for line in lines)
        return self._kept(known, key, lambda: path_of(lines, closed=closed))

    def _strokes(self, known: dict[bytes, QPainterPath], ticks: Ticks) -> QPainterPath:
        key = b"t" + ticks.starts.tobytes() + ticks.ends.tobytes()
        pairs = list(np.stack([ticks.starts, ticks.ends], axis=1))
        return self._kept(known, key, lambda: path_of(pairs, closed=False))

    def _kept(
        self, known: dict[bytes, QPainterPath], key: bytes, make: Callable[[], QPainterPath]
    ) -> QPainterPath:
        path = known.get(key)
        if path is None:
            self.made += 1
            path = make()
        self._by_outline[key] = path
        return path


def path_of(lines: Iterable[Points], *, closed: bool) -> QPainterPath:
    """Return the path through lines (n, 2), filled even-odd."""
    path = QPainterPath()
    for line in lines:
        if len(line):
            path.addPolygon(polygon_of(line))
            if closed:
                path.closeSubpath()
    return path


def polygon_of(points: Points) -> QPolygonF:
    """Return points (n, 2) as Qt's own array, copied at once."""
    polygon = QPolygonF()
    polygon.resize(len(points))
    memory = _Memory(polygon.data(), 16 * len(points), True)
    np.frombuffer(memory, np.float64).reshape(-1, 2)[:] = points
    return polygon
