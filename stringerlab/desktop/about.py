"""About: version, the notice in full, what else is inside and under which licence."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QLabel, QVBoxLayout, QWidget

from stringerlab import __version__
from stringerlab.data import folder
from stringerlab.methods import NOTICE

_INSIDE = (
    ("PySide6 (Qt)", "LGPL 3"),
    ("numpy", "BSD"),
    ("shapely", "BSD"),
    ("pydantic", "MIT"),
    ("ezdxf", "MIT"),
    ("Typst", "Apache 2.0"),
    ("matplotlib", "its own, BSD-like"),
    ("IBM Plex Sans", "SIL Open Font License 1.1"),
    ("DejaVu Sans", "Bitstream Vera and public domain"),
)


_WIDTH = 580


class About(QDialog):
    """The dialog; it goes for good when closed."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("about")
        self.setWindowTitle("About stringerlab")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 20, 24, 16)
        column.setSpacing(10)
        fonts = folder("resources") / "fonts"
        for text, role in (
            (f"stringerlab {__version__}", "heading"),
            (
                "Stringers and floors of moulded fibreglass boats: computed ply by ply, checked by clause.",
                "",
            ),
            ("Notice", "strong"),
            (NOTICE, ""),
            ("Inside", "strong"),
            (
                "; ".join(f"{name}: {licence}" for name, licence in _INSIDE)
                + f". Licences of the fonts: {fonts}.",
                "faint",
            ),
        ):
            label = QLabel(f"<b>{text}</b>" if role == "strong" else text, self)
            label.setWordWrap(True)
            label.setTextInteractionFlags(
                Qt.TextInteractionFlag.TextSelectableByMouse | Qt.TextInteractionFlag.TextSelectableByKeyboard
            )
            if role in ("heading", "faint"):
                label.setProperty(role, True)
            column.addWidget(label)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close, self)
        buttons.rejected.connect(self.close)
        column.addStretch(1)
        column.addWidget(buttons)
        self.resize(_WIDTH, column.totalHeightForWidth(_WIDTH))
