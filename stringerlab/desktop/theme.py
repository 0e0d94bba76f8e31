"""How the window looks: two sets of tokens, paper (light) and slate (dark), and one style made from either.

A drawing office's look: quiet surfaces, thin rules, one blueprint blue. Every text token stands at 4.5 : 1
or better on every surface it is used on. Fonts come from the repository only.
"""

from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from string import Template

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontDatabase, QPalette
from PySide6.QtWidgets import QApplication

from stringerlab.data import folder
from stringerlab.errors import Problem

FAMILIES = ("IBM Plex Sans", "DejaVu Sans")
"""The text family, and the one for signs it lacks."""
_FILES = (
    "IBMPlexSans-Regular.ttf",
    "IBMPlexSans-SemiBold.ttf",
    "IBMPlexSans-Bold.ttf",
    "IBMPlexSans-Italic.ttf",
    "DejaVuSans.ttf",
)
POINTS = 9.75


class Scheme(StrEnum):
    """What a person chose."""

    SYSTEM = "system"
    PAPER = "paper"
    SLATE = "slate"


@dataclass(frozen=True, slots=True, kw_only=True)
class Tokens:
    """Colours by meaning, as ``#rrggbb``."""

    name: str
    paper: str
    """The window's ground."""
    sheet: str
    """Fields, tables, the drawing."""
    raised: str
    """Buttons and heads of tables."""
    pressed: str
    rule: str
    """Thin lines between things; no text."""
    outline: str
    """Edges of what can be typed in or pressed: 3 : 1 on every surface."""
    ink: str
    faint: str
    """Text of less weight."""
    accent: str
    on_accent: str
    chosen: str
    """Ground of what is selected."""
    on_chosen: str
    holds: str
    tight: str
    short: str
    unknown: str


PAPER = Tokens(
    name="paper",
    paper="#f1eee6",
    sheet="#fbf9f4",
    raised="#f8f6f0",
    pressed="#e4dfd2",
    rule="#d3ccbc",
    outline="#8b8577",
    ink="#1d2730",
    faint="#565e67",
    accent="#1c5d86",
    on_accent="#ffffff",
    chosen="#c9dce9",
    on_chosen="#14202a",
    holds="#12666f",
    tight="#7f4e00",
    short="#a8222a",
    unknown="#575c68",
)
SLATE = Tokens(
    name="slate",
    paper="#242c34",
    sheet="#1b2229",
    raised="#2e3841",
    pressed="#3a4650",
    rule="#3f4a54",
    outline="#7f8c97",
    ink="#e7eaec",
    faint="#a9b3bb",
    accent="#86bee3",
    on_accent="#0e1d28",
    chosen="#2f5670",
    on_chosen="#f4f7f9",
    holds="#5fc6cf",
    tight="#eeb64a",
    short="#ff8f89",
    unknown="#adb4bd",
)


def is_dark(palette: QPalette) -> bool:
    """Whether a palette is that of a dark theme; what is painted picks its colours by this."""
    return palette.color(QPalette.ColorRole.Base).lightness() < 128


def tokens_of(palette: QPalette) -> Tokens:
    """Return the tokens a palette was made from."""
    return SLATE if is_dark(palette) else PAPER


class Dresser(QObject):
    """Dresses the application in paper or slate, and follows the system while asked to."""

    changed = Signal()
    """The tokens are others now."""

    def __init__(self, app: QApplication) -> None:
        super().__init__(app)
        self._app = app
        self.scheme = Scheme.SYSTEM
        self._dressed: Tokens | None = None
        app.styleHints().colorSchemeChanged.connect(self._follow)

    @classmethod
    def of_application(cls) -> "Dresser":
        """Return the application's own, made once."""
        app = QApplication.instance()
        assert isinstance(app, QApplication)
        found = app.findChild(Dresser)
        return found if isinstance(found, Dresser) else cls(app)

    @property
    def tokens(self) -> Tokens:
        """The tokens of the scheme."""
        if self.scheme is Scheme.SYSTEM:
            dark = self._app.styleHints().colorScheme() is Qt.ColorScheme.Dark
            return SLATE if dark else PAPER
        return SLATE if self.scheme is Scheme.SLATE else PAPER

    def dress(self, scheme: Scheme) -> None:
        """Show a scheme from now on."""
        self.scheme = scheme
        tokens = self.tokens
        if tokens is self._dressed and self._app.styleSheet():
            return
        self._dressed = tokens
        self._app.setPalette(palette(tokens))
        self._app.setStyleSheet(style_sheet(tokens))
        self.changed.emit()

    def _follow(self) -> None:
        if self.scheme is Scheme.SYSTEM:
            self.dress(Scheme.SYSTEM)


def load_fonts(place: Path | None = None) -> list[Problem]:
    """Take the repository's fonts into the application; return what is missing, the system's serving then."""
    where = place or folder("resources") / "fonts"
    missing = [name for name in _FILES if QFontDatabase.addApplicationFont(str(where / name)) < 0]
    if not missing:
        return []
    return [
        Problem(
            f"Fonts of the program do not load: {', '.join(missing)}.",
            str(where),
            "Another font is used, and some signs may be missing. Install stringerlab again.",
        )
    ]


def text_font() -> QFont:
    """Return the font of the window."""
    font = QFont(list(FAMILIES))
    font.setPointSizeF(POINTS)
    return font


def palette(tokens: Tokens) -> QPalette:
    """Return the palette of a set of tokens."""
    role = QPalette.ColorRole
    colours = {
        role.Window: tokens.paper,
        role.WindowText: tokens.ink,
        role.Base: tokens.sheet,
        role.AlternateBase: _mixed(tokens.sheet, tokens.paper, 0.55),
        role.Text: tokens.ink,
        role.PlaceholderText: tokens.faint,
        role.Button: tokens.raised,
        role.ButtonText: tokens.ink,
        role.BrightText: tokens.short,
        role.ToolTipBase: tokens.ink,
        role.ToolTipText: tokens.sheet,
        role.Highlight: tokens.chosen,
        role.HighlightedText: tokens.on_chosen,
        role.Accent: tokens.accent,
        role.Link: tokens.accent,
        role.LinkVisited: tokens.accent,
        role.Light: _mixed(tokens.raised, tokens.sheet, 0.5),
        role.Midlight: tokens.raised,
        role.Mid: tokens.rule,
        role.Dark: tokens.outline,
        role.Shadow: _mixed(tokens.outline, "#000000", 0.5),
    }
    made = QPalette()
    for which, colour in colours.items():
        made.setColor(which, QColor(colour))
    grey = QColor(_mixed(tokens.faint, tokens.paper, 0.35))
    for which in (role.WindowText, role.Text, role.ButtonText):
        made.setColor(QPalette.ColorGroup.Disabled, which, grey)
    made.setColor(QPalette.ColorGroup.Disabled, role.Base, QColor(tokens.paper))
    made.setColor(QPalette.ColorGroup.Disabled, role.Highlight, QColor(tokens.rule))
    return made


def style_sheet(tokens: Tokens) -> str:
    """Return the style of a set of tokens."""
    names = {name: getattr(tokens, name) for name in Tokens.__slots__}
    return Template(_STYLE).substitute(
        names,
        hover=_mixed(tokens.raised, tokens.accent, 0.12),
        disabled=_mixed(tokens.faint, tokens.paper, 0.35),
        arrow=(folder("resources") / "icons" / f"down_{tokens.name}.png").as_posix(),
        tick=(folder("resources") / "icons" / f"tick_{tokens.name}.png").as_posix(),
    )


def contrast(first: str, second: str) -> float:
    """Return the contrast of two colours, 1 to 21, as WCAG 2 defines it."""
    low, high = sorted((_luminance(first), _luminance(second)))
    return (high + 0.05) / (low + 0.05)


def _luminance(colour: str) -> float:
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _mixed(first: str, second: str, share: float) -> str:
    """Return a colour between two, with a share of the second."""
    pairs = ((int(first[i : i + 2], 16), int(second[i : i + 2], 16)) for i in (1, 3, 5))
    return "#" + "".join(f"{round(a + (b - a) * share):02x}" for a, b in pairs)


_STYLE = """
QToolTip { background: $ink; color: $sheet; border: 0; padding: 4px 7px; }
QMainWindow, QDialog { background: $paper; }
QMenuBar { background: $paper; border-bottom: 1px solid $rule; padding: 1px 6px; }
QMenuBar::item { padding: 4px 9px; background: transparent; }
QMenuBar::item:selected, QMenuBar::item:pressed { background: $pressed; }
QMenu { background: $sheet; border: 1px solid $outline; padding: 4px 0; }
QMenu::item { padding: 5px 26px 5px 26px; }
QMenu::item:selected { background: $chosen; color: $on_chosen; }
QMenu::item:disabled { color: $disabled; background: transparent; }
QMenu::separator { height: 1px; background: $rule; margin: 4px 10px; }

QPushButton, QToolButton { background: $raised; color: $ink; border: 1px solid $outline; border-radius: 2px;
    padding: 4px 11px; }
QToolButton { padding: 4px 7px; }
QPushButton:hover, QToolButton:hover { background: $hover; }
QPushButton:pressed, QToolButton:pressed { background: $pressed; }
QPushButton:checked, QToolButton:checked { background: $accent; color: $on_accent; border-color: $accent; }
QPushButton:focus, QToolButton:focus { border: 1px solid $accent; outline: 0; }
QPushButton:default { border: 2px solid $accent; padding: 3px 10px; }
QPushButton:disabled, QToolButton:disabled { color: $disabled; border-color: $rule; background: $paper; }
QToolButton::menu-indicator { image: none; }

QLineEdit { background: $sheet; color: $ink; border: 1px solid $outline; border-radius: 2px; padding: 3px 6px;
    selection-background-color: $chosen; selection-color: $on_chosen; }
QLineEdit:focus { border: 2px solid $accent; padding: 2px 5px; }
QLineEdit:read-only { background: $paper; border-color: $rule; }
QLineEdit:disabled { color: $disabled; background: $paper; border-color: $rule; }
QLineEdit[wrong="true"] { border: 2px solid $short; padding: 2px 5px; color: $short; }
QPlainTextEdit, QTextBrowser, QTextEdit { background: $sheet; border: 1px solid $rule;
    selection-background-color: $chosen; selection-color: $on_chosen; }
QPlainTextEdit:focus, QTextEdit:focus { border: 1px solid $accent; }

QTableView, QTreeView, QListView { background: $sheet; border: 1px solid $rule; gridline-color: $rule;
    selection-background-color: $chosen; selection-color: $on_chosen; outline: 0; }
QTableView:focus, QTreeView:focus, QListView:focus { border: 1px solid $accent; }
QHeaderView { background: $raised; }
QHeaderView::section { background: $raised; color: $faint; border: 0; border-right: 1px solid $rule;
    border-bottom: 1px solid $outline; padding: 4px 7px; font-weight: 600; }
QTableCornerButton::section { background: $raised; border: 0; border-bottom: 1px solid $outline; }

QGroupBox { border: 0; border-top: 1px solid $rule; margin-top: 20px; padding-top: 6px; font-weight: 600; }
QGroupBox::title { subcontrol-origin: margin; subcontrol-position: top left; left: 0; padding: 2px 8px 0 0;
    color: $faint; }
QTabWidget::pane { border: 1px solid $rule; background: $sheet; }
QTabBar::tab { background: transparent; color: $faint; padding: 5px 13px;
    border-bottom: 2px solid transparent; }
QTabBar::tab:selected { color: $ink; border-bottom: 2px solid $accent; }
QTabBar::tab:hover { color: $ink; }
QSplitter::handle { background: $rule; }
QSplitter::handle:horizontal { width: 1px; }
QSplitter::handle:vertical { height: 1px; }
QSplitter::handle:hover { background: $accent; }
QComboBox { background: $sheet; color: $ink; border: 1px solid $outline; border-radius: 2px;
    padding: 3px 4px 3px 7px; }
QComboBox:focus, QComboBox:on { border: 1px solid $accent; }
QComboBox:disabled { color: $disabled; background: $paper; border-color: $rule; }
QComboBox::drop-down { border: 0; width: 20px; }
QComboBox::down-arrow { image: url($arrow); width: 10px; height: 10px; }
QComboBox QAbstractItemView { background: $sheet; border: 1px solid $outline;
    selection-background-color: $chosen; selection-color: $on_chosen; }
QComboBox QAbstractItemView::item { padding: 3px 4px; }
QCheckBox::indicator, QListView::indicator, QTreeView::indicator, QTableView::indicator {
    width: 13px; height: 13px;
    background: $sheet; border: 1px solid $outline; border-radius: 2px; }
QCheckBox::indicator:checked, QListView::indicator:checked, QTreeView::indicator:checked,
QTableView::indicator:checked {
    background: $accent; border-color: $accent; image: url($tick); }
QCheckBox::indicator:focus { border: 2px solid $accent; width: 11px; height: 11px; }
QCheckBox::indicator:disabled { background: $paper; border-color: $rule; }
QScrollArea { border: 0; background: transparent; }
QScrollBar:vertical { background: transparent; width: 12px; margin: 0; }
QScrollBar:horizontal { background: transparent; height: 12px; margin: 0; }
QScrollBar::handle { background: $outline; border-radius: 3px; margin: 3px;
    min-width: 28px; min-height: 28px; }
QScrollBar::handle:hover { background: $faint; }
QScrollBar::add-line, QScrollBar::sub-line { width: 0; height: 0; }
QScrollBar::add-page, QScrollBar::sub-page { background: transparent; }
QProgressBar { background: $sheet; border: 1px solid $outline; border-radius: 2px; height: 8px; }
QProgressBar::chunk { background: $accent; }

#rail { background: $paper; border-right: 1px solid $rule; }
#rail QToolButton { background: transparent; border: 0; border-left: 3px solid transparent; border-radius: 0;
    color: $faint; padding: 6px 3px 4px 0; }
#rail QToolButton:hover { background: $hover; color: $ink; }
#rail QToolButton:checked { background: $sheet; color: $ink; border-left: 3px solid $accent;
    font-weight: 600; }
#rail QToolButton:focus { border: 1px dotted $accent; border-left: 3px solid $accent; }
#rail QToolButton:disabled { color: $disabled; }
#banner { background: $sheet; border-bottom: 1px solid $rule; border-left: 4px solid $accent; }
#banner[tone="wrong"] { border-left: 4px solid $short; }
#title_block { background: $paper; border-top: 1px solid $outline; }
#title_block #notice { border-top: 1px solid $rule; }
#title_block QFrame[cell="true"] { border: 0; border-left: 1px solid $rule; }
#title_block QToolButton { border: 0; border-radius: 0; background: transparent; padding: 2px 8px;
    color: $ink; }
#title_block QToolButton:hover { background: $hover; }
#title_block QToolButton:checked { background: $pressed; color: $ink; font-weight: 600; }
#title_block QToolButton:focus { border: 1px dotted $accent; }
#title_block #notice QPushButton { border: 0; background: transparent; color: $faint; padding: 2px 6px;
    text-align: left; font-size: 8.6pt; }
#title_block #notice QPushButton:hover { color: $ink; }
#title_block #notice QPushButton:focus { border: 1px dotted $accent; padding: 1px 5px; }
#chapters { border: 0; border-right: 1px solid $rule; background: $paper; padding: 18px 0; }
#chapters::item { padding: 6px 16px; }
#tour { background: $sheet; border: 2px solid $accent; border-radius: 3px; }
[faint="true"] { color: $faint; }
[heading="true"] { font-size: 15pt; font-weight: 600; }
"""
