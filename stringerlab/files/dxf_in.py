"""Outlines out of a DXF: lines, polylines, arcs, circles, ellipses, splines, and blocks taken apart.

Only model space is read. A drawing that states no unit is read as mm and says so; the caller asks.
"""

import re
from collections.abc import Callable, Iterator
from io import TextIOWrapper
from pathlib import Path
from typing import Any

import ezdxf.filemanagement
from ezdxf.document import Drawing
from ezdxf.entities.dxfgfx import DXFGraphic
from ezdxf.entities.insert import Insert
from ezdxf.lldxf.const import DXFError, DXFStructureError
from ezdxf.lldxf.validator import is_binary_dxf_file

from stringerlab.errors import Problem, StringerlabError
from stringerlab.files.dxf_lines import Points, flattened
from stringerlab.files.outlines import UNITS, Outlines, counted, outlines_to_walls
from stringerlab.files.trouble import trouble

__all__ = ["MOST", "TOLERANCE", "Outlines", "Watch", "outlines_to_walls", "read_dxf"]

Watch = Callable[[float, str], None]
"""Told the fraction done and what is being done; may raise to stop the reading."""

TOLERANCE = 0.05
"""Greatest distance between a curve and its chords [mm]."""
MOST = 300_000
"""Things in a drawing, blocks taken apart, beyond which it is refused."""
MOST_POINTS = 3_000_000
LARGEST_FILE = 400_000_000
"""Bytes."""
DEEPEST = 12
"""Blocks within blocks."""

_STATED = {1: "in", 2: "ft", 4: "mm", 5: "cm", 6: "m", 10: "yd", 14: "dm"}
"""The unit by its number in the file."""
_BLOCK = 1 << 22
_RECORD = re.compile(rb"\n[ \t]*0[ \t]*\r?\n([A-Z][A-Z0-9_]*)[ \t]*(?=\r?\n)")
_NO_DRAWING = {b"SECTION", b"ENDSEC", b"EOF", b"TABLE", b"ENDTAB", b"VERTEX", b"SEQEND"}
_EZDXF: Any = ezdxf.filemanagement
"""Its annotations are not whole."""
_EVERY = 4096
_DRAWN_SHARE = 0.6
"""Part of the work that reading the file's text is; the rest is flattening."""


def read_dxf(
    path: Path | str, *, unit: str | None = None, tolerance: float = TOLERANCE, watch: Watch | None = None
) -> Outlines:
    """Return what a DXF draws as lines.

    Parameters
    ----------
    path
        The file.
    unit
        What the drawing is in, whatever it states itself: a symbol of ``UNITS``.
    tolerance
        Greatest distance between a curve and its chords [mm].
    watch
        Told of progress; whatever it raises ends the reading.

    Raises
    ------
    StringerlabError
        When the file cannot be read, is no DXF, is damaged, holds too much, or nothing usable.
    """
    file = Path(path)
    tell = watch or _unwatched
    try:
        _refuse_unfit(file, tell)
        drawing = _loaded(file, tell)
    except OSError as error:
        raise trouble(error, "be read", file) from error
    stated = _STATED.get(int(drawing.header.get("$INSUNITS", 0)))
    read_as = unit or stated or "mm"
    lines: list[Points] = []
    layers: list[str] = []
    left_out: list[str] = []
    count = points = 0
    expected = max(len(drawing.modelspace()), 1)
    for entity, layer, why in _apart(drawing):
        count += 1
        if count > MOST:
            raise _too_many(file, f"more than {_spaced(MOST)}", "Its blocks, taken apart, hold")
        if count % _EVERY == 0:
            done = min(count / expected, 1.0)
            tell(_DRAWN_SHARE + (1 - _DRAWN_SHARE) * done, f"Flattening {_spaced(count)} things")
        if not why:
            found, why = flattened(entity, UNITS[read_as], tolerance)
            lines += found
            layers += [layer] * len(found)
            points += sum(len(line) for line in found)
            if points > MOST_POINTS:
                raise _too_many(file, f"more than {_spaced(MOST_POINTS)} points", "Its lines have")
        if why:
            left_out.append(why)
    skipped = tuple(counted(left_out))
    if not lines:
        raise _nothing(file, drawing, skipped)
    tell(1.0, "Done")
    return Outlines(
        name=file.name,
        lines=tuple(lines),
        layers=tuple(layers),
        unit=stated,
        read_as=read_as,
        tolerance=tolerance,
        entities=count,
        skipped=skipped,
    )


class _Told:
    """A text stream that tells how far it is read."""

    def __init__(self, stream: TextIOWrapper, size: int, tell: Watch) -> None:
        self._line = stream.readline
        self._size, self._tell = size, tell
        self._calls, self._characters = 0, 0

    def readline(self) -> str:
        line = self._line()
        self._characters += len(line)
        self._calls += 1
        if self._calls % _EVERY == 0:
            done = min(self._characters / self._size, 1.0)
            self._tell(_DRAWN_SHARE * done, "Reading the drawing")
        return line


def _refuse_unfit(file: Path, tell: Watch) -> None:
    """Look at a file without reading its drawing: of what kind it is, how much it holds, whether it ends."""
    size = file.stat().st_size
    if file.is_dir():
        raise IsADirectoryError(21, "Is a directory")
    with file.open("rb") as opened:
        head = opened.read(4096)
        if head[:4] == b"AC10":
            raise _refused(file, "It is a DWG, not a DXF.", "Save it as DXF in the program that made it.")
        if size > LARGEST_FILE:
            what = f"It is {size / 1e6:.0f} MB; {LARGEST_FILE / 1e6:.0f} MB are read at most."
            raise _refused(file, what, "Save only the part you need as a DXF of its own.")
        if is_binary_dxf_file(str(file)):
            return
        if b"SECTION" not in head:
            raise _refused(file, "It is no DXF.", "Choose a file that a drawing program saved as DXF.")
        count, kept = 0, b""
        opened.seek(0)
        while block := opened.read(_BLOCK):
            tell(0.0, "Looking at the file")
            text = kept + block
            cut = max(text.rfind(b"\n"), 0)
            cut = max(text.rfind(b"\n", 0, cut), 0)  # a record's mark and its name stay together
            count += sum(1 for match in _RECORD.finditer(text[: cut + 1]) if match[1] not in _NO_DRAWING)
            kept = text[cut:]
    if not kept.rstrip().endswith(b"EOF"):
        raise _damaged(file, "it ends before its end mark")
    if count > MOST * 2:  # tables and objects count too: a bound on the time, not the verdict
        raise _too_many(file, f"about {_spaced(count)}")


def _loaded(file: Path, tell: Watch) -> Drawing:
    try:
        if is_binary_dxf_file(str(file)):
            tell(0.0, "Reading the drawing")
            return _EZDXF.readfile(file)
        with file.open(encoding=_EZDXF.dxf_file_info(file).encoding, errors="surrogateescape") as stream:
            return _EZDXF.read(_Told(stream, file.stat().st_size, tell))
    except DXFStructureError as error:
        raise _damaged(file, str(error)) from error
    except (DXFError, ValueError, LookupError, AttributeError, TypeError, ArithmeticError) as error:
        raise _damaged(file, "its parts do not fit together") from error


def _apart(drawing: Drawing) -> Iterator[tuple[DXFGraphic, str, str]]:
    """Yield everything drawn, blocks taken apart: its layer, and why it is left out where it is."""
    hidden = {layer.dxf.name.lower() for layer in drawing.layers if layer.is_off() or layer.is_frozen()}
    waiting = [(entity, "", 0) for entity in reversed(list(drawing.modelspace()))]
    while waiting:
        entity, inherited, depth = waiting.pop()
        own = str(entity.dxf.get("layer", "0"))
        layer = inherited if inherited and own == "0" else own
        if layer.lower() in hidden:
            yield entity, layer, f"{entity.dxftype()}, on a layer that is off"
        elif not isinstance(entity, Insert):
            yield entity, layer, ""
        elif entity.block() is None:
            yield entity, layer, "INSERT, its block is missing"
        elif depth >= DEEPEST:
            yield entity, layer, f"INSERT, more than {DEEPEST} blocks within blocks"
        else:
            parts, failed = _parts(entity)
            if failed:
                yield entity, layer, failed
            waiting += [(part, layer, depth + 1) for part in reversed(parts)]


def _parts(insert: Insert) -> tuple[list[DXFGraphic], str]:
    block = insert.block()
    inside = len(block) if block is not None else 0
    if insert.mcount * max(inside, 1) > MOST:
        return [], "INSERT, repeated too often"
    try:
        copies = list(insert.multi_insert()) if insert.mcount > 1 else [insert]
        return [part for copy in copies for part in copy.virtual_entities()], ""
    except (DXFError, ValueError, ArithmeticError, TypeError):
        return [], "INSERT, damaged"


def _refused(file: Path, what: str, remedy: str) -> StringerlabError:
    return StringerlabError(Problem(what, str(file), remedy))


def _damaged(file: Path, how: str) -> StringerlabError:
    return _refused(
        file,
        f"The DXF is damaged: {how.rstrip('.')}.",
        "Save it again as DXF, of the 2007 form or later, in the program that made it.",
    )


def _too_many(file: Path, count: str, holds: str = "It holds") -> StringerlabError:
    return _refused(
        file,
        f"{holds} {count}; {_spaced(MOST)} things are read at most.",
        "Save the section's outline alone as a DXF of its own: without hatches, hull lines and other views.",
    )


def _nothing(file: Path, drawing: Drawing, skipped: tuple[tuple[str, int], ...]) -> StringerlabError:
    held = ", ".join(f"{count} {what}" for what, count in skipped[:8])
    if len(skipped) > 8:
        held += f" and {len(skipped) - 8} more kinds"
    on_paper = sum(len(layout) for layout in drawing.layouts if not layout.is_modelspace)
    what = f"It holds nothing usable, only {held}." if held else "Its model space is empty."
    if on_paper:
        what += f" {_spaced(on_paper)} things lie on paper sheets, which are not read."
    return _refused(
        file,
        what,
        "Lines, polylines, arcs, circles, ellipses and splines are read: draw or explode into those.",
    )


def _spaced(count: int) -> str:
    return f"{count:,}".replace(",", " ")


def _unwatched(fraction: float, what: str) -> None:
    del fraction, what
