"""The help page: what the program does, first steps, how verdicts and marks read, every shortcut, the notice.

Shortcuts come from the tables that menus and drawing sheet are made of, never from a list of their own.
"""

from collections.abc import Iterable, Sequence
from html import escape
from pathlib import Path

from PySide6.QtCore import QEvent, Qt, QUrl
from PySide6.QtGui import QKeySequence, QPixmap, QTextDocument
from PySide6.QtWidgets import QHBoxLayout, QListWidget, QTextBrowser, QWidget

from stringerlab.data import folder
from stringerlab.desktop.actions import ACTIONS, MENUS, page_actions
from stringerlab.desktop.pages.help_cavities import CAVITIES
from stringerlab.desktop.pages.help_compare import COMPARE
from stringerlab.desktop.pages.help_grid import GRID
from stringerlab.desktop.pages.help_paper import PAPER
from stringerlab.desktop.pages.help_sizing import SIZING
from stringerlab.desktop.plan.tools import KEYS as PLAN_KEYS
from stringerlab.desktop.session import Session
from stringerlab.desktop.sheet.switches import SWITCHES
from stringerlab.desktop.sheet.tools import KEYS
from stringerlab.desktop.theme import Tokens, tokens_of
from stringerlab.desktop.verdicts import SIGNS
from stringerlab.methods import NOTICE, SHORT_ABOVE, TIGHT_ABOVE, Verdict
from stringerlab.section.shapes import STARTERS
from stringerlab.workings import Known

VERDICTS = {
    Verdict.HOLDS: f"utilisation up to {TIGHT_ABOVE:.2f}",
    Verdict.TIGHT: f"above {TIGHT_ABOVE:.2f}, up to {SHORT_ABOVE:.2f}; the margin is our own",
    Verdict.SHORT: f"above {SHORT_ABOVE:.2f}: the demand is greater than the capacity",
    Verdict.NOT_JUDGED: "something needed is missing; the finding says what",
    Verdict.ADVICE: "a reading by a rule of thumb, said beside the findings and never judged",
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
    "On <b>Sections</b>, add a shape from the list under Add and type its sizes or pull its handles, or draw "
    "wall by wall. Neutral axis, EI and section moduli move while you drag.",
    "On <b>Panels and spans</b>, say which panel has which laminate and which span has which section.",
    "On <b>Findings</b>, read the verdicts, and choose one to see its formulas, numbers and sources. Enter "
    "goes to its place: the wall of the drawing that governs a span, the row of a panel.",
    "On <b>Take-off</b>, read what members and sections are made of; with rates typed, hours and cost too.",
)
_METHODS = (
    "A project is judged by the method chosen on <b>Boat</b>; each gives its edition, and where it is "
    "superseded, says so. Some need more of the boat than others: significant wave, running trim, draught, "
    "deck edge. What is not given is taken at the clause’s own least, and said; where there is none, the "
    "finding is not judged and says what is missing.",
    "<b>Method against method</b> on Findings sets every panel and span side by side, and says in words "
    "made of the numbers why the methods differ: pressure, allowable stress, counted width, form.",
    "Panels and spans lie on a surface: bottom, side, deck, watertight bulkhead or tank. A method without a "
    "pressure for a surface leaves it not judged.",
)
_PARENT = (
    "A boat that has held up in service calibrates a new one. Name its project file on Boat, under Parent "
    "boat: Findings then show the part each utilisation is of the parent’s, by the same method: that of the "
    "panel or span you name as its like, else of the nearest of its kind along the waterline. Such a reading "
    "is no rule compliance.",
)
_SHAPES = (
    "A shape begun from the list keeps its sizes in the form at the left, and is drawn anew with each value. "
    "Once something in it is drawn by hand it is walls like any other; undo brings the form back. The shell "
    "lies through y = 0 at the section’s deadrise. Flanges stand on the bead, tabs on the shell itself.",
    "<b>A pan lying on the hull.</b> Select its wall: “Lies on the hull” and “Fully bonded” say what it is. "
    "Not fully bonded it is mass alone, drawn pale and dashed; fully bonded it counts less the voids "
    "allowed. A panel says so of its own pan in the row under the table of panels.",
    "<b>Zones</b>, beside Panels and spans, give plating by place. Where they overlap, the later lies "
    "inboard and every ply is real; within its taper a zone’s plies drop off one after another.",
    "<b>Ends and openings</b>, under the spans, hold a span’s holes, how its ends land, the members that "
    "cross it, and outboards where it ends at the transom; Findings judge each where it governs.",
)
_BOOK = (
    "Shipped materials are generic and read only; each value has its source and mark. Copy one to your own "
    "to change it, or set your own in its place. A layered fabric (1808, a triaxial) is laid as its layers.",
    "<b>Tested coupons.</b> Under a fabric of your own, enter what a test gave: property, mean, deviation, "
    "count, glass content, thickness, standard. The value used is a lower bound by the stated rule, shown "
    "beside the estimate; a set of one has no bound and is not used, and that is said.",
    "<b>Books as files.</b> Export your own materials as a book, import another’s: every fault is listed, "
    "and where two books disagree you choose line by line before anything is taken.",
)
_TAKEOFF = (
    "Fibre, resin, gel coat, core, adhesive and fills by member and by section, fabric area, and what is "
    "bought with the waste set. Hull plating is in no number. Rates and prices are yours: what has none is "
    "left out of hours and cost, and named.",
)
_MECHANICS = (
    "Beside the method’s own findings stand the <b>mechanics under its pressure</b>: how each part really "
    "fails, reckoned from what was drawn. Spans: every ply at the end and at mid-span; crown, webs, flanges "
    "and plating that buckle; webs that cripple; cores that are crushed; the bond in shear and in peel; "
    "ends, holes, crossings and outboards. Panels: first-ply failure, core shear, deflection.",
    "They take the method’s pressure but its strengths without its factors; the part of failure that is "
    "allowed is our own choice and stands in each finding’s notes. They replace what the method leaves open, "
    "such as the bond, and are no rule compliance. <b>Method and mechanics</b> on Findings reads either "
    "alone. What a solver cannot do is not judged, in its own words.",
    "<b>Duty</b>, in the row under the spans, says that a member is an engine or gyro bed: the method first "
    "principles then also holds its strain down, since such a load comes again and again.",
    "<b>Openings</b> of a section’s spans are drawn on its sheet as what they take out of each web, and can "
    "be put off under Overlays. A row of spans copied as text names its openings and ends but cannot carry "
    "them; pasted in the same window, or by Duplicate, a span keeps everything.",
)
_SECOND = (
    "<b>Second opinion</b>, above the numbers of a section, gives the same regions to another library, "
    "sectionproperties, which meshes and solves them by finite elements in a process of its own. It takes "
    "some seconds; Stop ends it, and so does a time limit: a mesher that crashes or hangs becomes a message.",
    "The table sets each number of both side by side, with the difference as a part of ours, that of a place "
    "as a part of the section’s size. EA, the neutral point and EI are the same sums done twice and should "
    "agree to every digit shown. GJ is solved anew with each region weighted by its shear modulus.",
    "That library weights shear by E with one ratio of E to G for all. Where regions differ in that ratio, "
    "as ±45° webs under a unidirectional crown do, its shear centre and shear stiffness are not this "
    "section’s: a star marks such a row, the reason stands below, and ours is the number to use.",
    "The picture shows its mesh, or its stress under a unit load, from full compression to full tension. "
    "After an edit the answer is of an earlier drawing and says so: Ask again.",
)
_BUILT = (
    "What the shop measured is typed on <b>Laminates</b>, beneath the plies under <b>As built</b>: a ply’s "
    "thickness, its glass content as burnt off (0.42 or 42 %), a tick where it was not laid. The last row is "
    "the whole laminate without gel coat. The gap of a bead is typed below, by section. Blank is as drawn.",
    "A ◆ and bold letters mark what was measured; its tip says by how much it differs from what was drawn. "
    "Measurements stay on their plies when plies are moved, put in, repeated or deleted; that of a deleted "
    "ply goes with it, and undo brings both back.",
    "A measured glass content or thickness replaces the ply’s own. What was measured of the whole is shared "
    "by the reinforced plies not measured themselves, in the proportion they were drawn. A missing ply is "
    "left out. A part stands on its measured bead, and moves off the shell by what that is thicker.",
    "<b>What it changes</b>, there and as <b>As built</b> on Findings, checks the boat both ways and lists "
    "every finding that differs, worse verdicts first; it follows each edit while open. The drawing, the "
    "findings and the take-off stay those of the boat as drawn. Clear all takes every measurement out.",
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
        self.chapters.setFixedWidth(266)
        self.chapters.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
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
        self._add_picture(picture_file(tokens_of(self.palette()).name))
        self.text.setHtml(page_html(tokens_of(self.palette()).name))
        self.text.verticalScrollBar().setValue(place)

    def _add_picture(self, place: Path) -> None:
        """Offer the picture at the width shown, made smaller smoothly."""
        ratio = self.devicePixelRatioF()
        smooth = Qt.TransformationMode.SmoothTransformation
        shown = QPixmap(str(place)).scaledToWidth(round(_PICTURE * ratio), smooth)
        shown.setDevicePixelRatio(ratio)
        image = QTextDocument.ResourceType.ImageResource
        self.text.document().addResource(image, QUrl(place.as_uri()), shown)

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
            + f'<p><img src="{picture_file(look).as_uri()}" width="{_PICTURE}"></p>',
        ),
        ("Numbers and units", f"<p>{escape(_NUMBERS)}</p>"),
        ("Shapes, pans and zones", _said(_SHAPES) + _table((shape.name, shape.tip) for shape in STARTERS)),
        ("Methods", _said(_METHODS)),
        ("Mechanics", _said(_MECHANICS)),
        ("The grid: what it does and leaves out", _said(GRID)),
        ("Second opinion", _said(_SECOND)),
        ("As built", _said(_BUILT)),
        ("Parent boat", _said(_PARENT)),
        ("Materials and coupons", _said(_BOOK)),
        ("Cavities and flotation", _said(CAVITIES)),
        ("Take-off", _said(_TAKEOFF)),
        ("Side by side", _said(COMPARE)),
        ("On paper", _said(PAPER)),
        ("Search, scatter, studies", _said(SIZING)),
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
            "<p>Keys of the drawing sheet; the status line says what the next click does.</p>"
            + _table(KEYS)
            + "<p>Keys of the plan:</p>"
            + _table(PLAN_KEYS),
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


def _said(paragraphs: Iterable[str]) -> str:
    return "".join(f"<p>{each}</p>" for each in paragraphs)


def picture_file(look: str) -> Path:
    """Return the file of the help's picture in a look: paper or slate."""
    return folder("resources") / "screens" / f"sections_{look}.png"


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
