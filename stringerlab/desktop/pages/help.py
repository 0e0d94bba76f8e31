"""The help page: what the program does, first steps, how verdicts and marks read, every shortcut, the notice.

Shortcuts come from the tables that menus and drawing sheet are made of, never from a list of their own.
"""

from collections.abc import Iterable, Sequence
from html import escape

from PySide6.QtCore import QEvent
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QHBoxLayout, QListWidget, QTextBrowser, QWidget

from stringerlab.data import folder
from stringerlab.desktop.actions import ACTIONS, MENUS, page_actions
from stringerlab.desktop.session import Session
from stringerlab.desktop.sheet.switches import SWITCHES
from stringerlab.desktop.sheet.tools import KEYS
from stringerlab.desktop.theme import Tokens, tokens_of
from stringerlab.desktop.verdicts import SIGNS
from stringerlab.methods import NOTICE, SHORT_ABOVE, TIGHT_ABOVE, Verdict
from stringerlab.workings import Known

VERDICTS = {
    Verdict.HOLDS: f"utilisation up to {TIGHT_ABOVE:.2f}",
    Verdict.TIGHT: f"above {TIGHT_ABOVE:.2f}, up to {SHORT_ABOVE:.2f}; the margin is our own",
    Verdict.SHORT: f"above {SHORT_ABOVE:.2f}: the demand is greater than the capacity",
    Verdict.NOT_JUDGED: "something needed is missing; the finding says what",
}
MARKS = {
    Known.READ: "read in a text of the source",
    Known.PROVED: "reproduces a published table of the source to its printed digits",
    Known.TESTED: "your own tested value",
    Known.QUOTED: "as another public text quotes the source",
    Known.COMPUTED: "our own benchmark, computed",
    Known.STATED: "a choice, yours or ours, and said so",
    Known.MEMORY_H: "from memory, high confidence: compare with a bought copy",
    Known.MEMORY_M: "from memory, medium confidence: compare with a bought copy before relying on it",
    Known.PRACTICE: "a fact of the trade without a source",
    Known.MEMORY_L: "from memory, low confidence: compare with a bought copy before relying on it",
    Known.ESTIMATE: "an estimate; test it",
}
_PICTURE = 760
"""Width of the picture in pixels."""
_STEPS = (
    "Open a sample from the first screen, or begin a new boat (Ctrl+N).",
    "On <b>Boat</b>, enter length, mass, speed and the hull bottom's stations.",
    "On <b>Laminates</b>, stack plies from the mould inward; thickness, mass and stiffness follow.",
    "On <b>Sections</b>, draw a hat or a floor, or take a starter shape and pull its handles. Neutral axis, "
    "EI and section moduli move while you drag.",
    "On <b>Panels and spans</b>, say which panel has which laminate and which span has which section.",
    "On <b>Findings</b>, read the verdicts, and choose one to see its formulas, numbers and sources. Enter "
    "goes to its place: the wall of the drawing that governs a span, the row of a panel.",
)
_NUMBERS = (
    "Type numbers with any unit that fits: 3/8 in, 9.5 mm or 9,5 mm, 40 kn, 18 oz/yd². A bare number is "
    "taken in the unit shown. Enter or leaving the field commits, Escape takes the typing back. What does "
    "not read stays, marked, with the reason as its tip. A woven cloth's weight in US shops is in oz/yd², "
    "a mat's in oz/ft²."
)
_FILES = (
    "Unsaved work is kept a few seconds after each edit and offered again after a crash or a power cut. A "
    "file is replaced whole or not at all. A file open in another window is not opened twice: the message "
    "says who has it. A sample opens as a copy without a file. A DXF is taken in as walls or laid under the "
    "sheet: lines, polylines, arcs, circles, ellipses and splines, curves flattened to a stated tolerance; "
    "the unit is asked for where the drawing names none. The sheet goes out as SVG, PNG or DXF."
)


class HelpPage(QWidget):
    """Chapters at the left, the text at the right."""

    title = "Help"

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        del session  # help is the same for every project
        super().__init__(parent)
        self.chapters = QListWidget(self)
        self.chapters.setObjectName("chapters")
        self.chapters.setAccessibleName("Chapters")
        self.chapters.setFixedWidth(190)
        self.text = QTextBrowser(self)
        self.text.setAccessibleName("Help")
        self.text.setOpenLinks(False)
        self.text.document().setDocumentMargin(28)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self.chapters)
        row.addWidget(self.text, 1)
        self._names = [name for name, _ in chapters(tokens_of(self.palette()).name)]
        self.chapters.addItems(self._names)
        self.chapters.setCurrentRow(0)
        self.chapters.currentRowChanged.connect(self._go)
        self.setFocusProxy(self.chapters)
        self._write()

    def changeEvent(self, event: QEvent) -> None:
        """Write anew in the colours of another theme."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self._write()

    def _write(self) -> None:
        place = self.text.verticalScrollBar().value()
        self.text.document().setDefaultStyleSheet(_style(tokens_of(self.palette())))
        self.text.setHtml(page_html(tokens_of(self.palette()).name))
        self.text.verticalScrollBar().setValue(place)

    def _go(self, row: int) -> None:
        if row >= 0:
            self.text.scrollToAnchor(f"c{row}")


def page_html(look: str) -> str:
    """Return the whole help as HTML, its picture in a look: paper or slate."""
    return "".join(
        f'<h2><a name="c{number}"></a>{escape(name)}</h2>{body}'
        for number, (name, body) in enumerate(chapters(look))
    )


def chapters(look: str) -> list[tuple[str, str]]:
    """Return each chapter's name and HTML, the picture in a look."""
    return [
        (
            "What it does",
            "<p>stringerlab takes the boat, its laminates, the drawn cross-sections of stringers and "
            "floors, and the bottom panels and spans between them. It computes stiffness ply by ply from "
            "what was drawn, and checks every panel and span clause by clause, with the formula, the "
            "numbers put in, and the source.</p><p>It does not replace a rule book, a class society, or a "
            "naval architect.</p>",
        ),
        (
            "First steps",
            "<ol>"
            + "".join(f"<li>{step}</li>" for step in _STEPS)
            + "</ol>"
            + _picture(f"sections_{look}.png"),
        ),
        ("Numbers and units", f"<p>{escape(_NUMBERS)}</p>"),
        (
            "Verdicts",
            "<p>Utilisation is in load: (demand ÷ capacity)ⁿ with n the quantity’s power of load, so a panel "
            "10 % too thin stands at 1.23.</p>"
            + _table((f"{SIGNS[verdict]} {verdict.value}", VERDICTS[verdict]) for verdict in Verdict),
        ),
        (
            "Marks of sources",
            "<p>A mark says how well a number’s source is known; a finding carries the weakest of all that "
            "went into it. Strongest first:</p>" + _table((mark.value, MARKS[mark]) for mark in Known),
        ),
        (
            "Drawing",
            "<p>Keys of the drawing sheet; the status line says what the next click does.</p>" + _table(KEYS),
        ),
        (
            "Overlays",
            "<p>What is drawn over a section, each on or off under Overlays above the sheet. Strain, stress "
            "and shear flow are drawn under the moment and the shear typed beside them, of either sign.</p>"
            + _table((switch.name, switch.tip) for switch in SWITCHES),
        ),
        ("Menus and shortcuts", "".join(_menu(key, title) for key, title in MENUS.items())),
        ("Files and recovery", f"<p>{escape(_FILES)}</p>"),
        ("Notice", f"<p>{escape(NOTICE)}</p>"),
    ]


def _picture(name: str) -> str:
    place = folder("resources") / "screens" / name
    return f'<p><img src="{place.as_uri()}" width="{_PICTURE}"></p>'


def _menu(key: str, title: str) -> str:
    rows = [
        (_keys(action.shortcuts), f"{action.words}: {action.tip}")
        for action in (*page_actions(), *ACTIONS)
        if action.menu == key
    ]
    return f"<h3>{escape(title.replace('&', ''))}</h3>" + _table(rows)


def _keys(shortcuts: Sequence[str]) -> str:
    native = QKeySequence.SequenceFormat.NativeText
    return ", ".join(QKeySequence(keys).toString(native) for keys in shortcuts)


def _table(rows: Iterable[tuple[str, str]]) -> str:
    cells = "".join(
        f'<tr><td class="key" width="170">{escape(key)}</td><td>{escape(words)}</td></tr>'
        for key, words in rows
    )
    return f'<table cellspacing="0" cellpadding="4">{cells}</table>'


def _style(tokens: Tokens) -> str:
    return (
        f"h2 {{ color: {tokens.ink}; font-size: 15pt; font-weight: 600; margin-top: 22px; }}"
        f"h3 {{ color: {tokens.faint}; font-size: 10pt; margin-top: 12px; }}"
        f"p, li, td {{ color: {tokens.ink}; }}"
        f"li {{ margin-bottom: 4px; }}"
        f"td.key {{ color: {tokens.accent}; font-weight: 600; }}"
    )
