"""Pictures of the window for README and help, made from the samples: the same samples, the same pictures.

``python -m stringerlab.desktop.screens OUT`` writes the few that are shipped; with ``--all`` every page,
light and dark, at 1280 × 800 and 1920 × 1080, for looking at.
"""

import os
import sys
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from time import monotonic
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PySide6.QtWidgets import QApplication

    from stringerlab.desktop.window import Window

SMALL, LARGE = (1280, 800), (1920, 1080)
QUIET = 0.6
"""Seconds without anything to do after which a page is taken to be painted."""
_RUNS = ("size", "helps", "scatter", "studies")
"""Pages that show something once it was asked for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shot:
    """One picture: page, look, size in pixels, sample, and whether the page has run what it is asked."""

    page: str
    scheme: str = "paper"
    size: tuple[int, int] = SMALL
    sample: str = "eelgrass_workboat"
    run: bool = False

    @property
    def name(self) -> str:
        """Name of its file."""
        width = "" if self.size == SMALL else f"_{self.size[0]}"
        return f"{self.page}_{self.scheme}{width}.png"


SHIPPED = (
    Shot(page="sections"),
    Shot(page="sections", scheme="slate"),
    Shot(page="findings"),
    Shot(page="laminates"),
    Shot(page="plan", sample="tidewrack_layout"),
    Shot(page="size", run=True),
    Shot(page="studies", run=True),
)


def every() -> Iterator[Shot]:
    """Yield every page in both looks and sizes, and the first screen."""
    from stringerlab.desktop.actions import PAGES

    for scheme in ("paper", "slate"):
        for size in (SMALL, LARGE):
            yield Shot(page="welcome", scheme=scheme, size=size)
            for page in PAGES:
                drawn = "tidewrack_layout" if page.id in ("plan", "compare") else "eelgrass_workboat"
                yield Shot(page=page.id, scheme=scheme, size=size, sample=drawn, run=page.id in _RUNS)


def main(arguments: Sequence[str]) -> int:
    """Write the pictures into a folder, which is made when it is not there."""
    shots = tuple(every()) if "--all" in arguments else SHIPPED
    folders = [name for name in arguments if not name.startswith("--")]
    if len(folders) != 1:
        print("python -m stringerlab.desktop.screens OUT [--all]", file=sys.stderr)
        return 2
    out = Path(folders[0])
    out.mkdir(parents=True, exist_ok=True)
    os.environ["QT_QPA_PLATFORM"] = "offscreen"
    with tempfile.TemporaryDirectory() as state:
        os.environ["STRINGERLAB_STATE"] = state
        for name in photographed(shots, out):
            print(name)
    return 0


def photographed(shots: Sequence[Shot], out: Path) -> Iterator[Path]:
    """Write each picture and yield its file."""
    from PySide6.QtGui import QImage

    from stringerlab.desktop.app import application, open_window
    from stringerlab.desktop.settings import Settings, Store

    Store().write(Settings(tour_done=True))
    app = application()
    window = open_window(app)
    window.show()
    try:
        shown = ""
        for shot in sorted(shots, key=lambda shot: (shot.page != "welcome", shot.sample)):
            file = out / shot.name
            if shot.page != "welcome" and shot.sample != shown:
                shown = shot.sample
                window.documents.begin_sample(shown)
            _set_up(app, window, shot)
            plain = window.grab().toImage().convertToFormat(QImage.Format.Format_RGB888)
            plain.save(str(file), quality=0)  # of a PNG: as small as it gets, and nothing lost
            yield file
    finally:
        window.end()
        window.session.close()


def _set_up(app: "QApplication", window: "Window", shot: Shot) -> None:
    from stringerlab.desktop.theme import Scheme

    window.show_scheme(Scheme(shot.scheme))
    window.resize(*shot.size)
    if shot.page != "welcome":
        window.show_page(shot.page)
    _settle(app, window)
    if shot.run:
        _run(window)
        _settle(app, window)


def _run(window: "Window") -> None:
    """Press what the page seen runs by, where it may be pressed."""
    from PySide6.QtWidgets import QPushButton

    for button in window.findChildren(QPushButton):
        words = button.text().replace("&", "")
        if button.isVisible() and button.isEnabled() and words in ("Run", "Find what helps"):
            button.click()
            return


def _at_work(window: "Window") -> bool:
    """Return whether a check, a comparison, a count or a run is under way."""
    from stringerlab.desktop.jobs import Job

    return window.session.busy or any(job.busy for job in window.findChildren(Job))


def _settle(app: "QApplication", window: "Window") -> None:
    """Let the check and what the page runs end, and what follows them be painted."""
    until = monotonic() + QUIET
    while monotonic() < until:
        app.processEvents()
        if _at_work(window):
            until = monotonic() + QUIET


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
