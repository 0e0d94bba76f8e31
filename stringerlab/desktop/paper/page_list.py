"""Pages by number with a small picture of each, beside the pages themselves; of those in sight alone."""

from collections.abc import Sequence

from PySide6.QtCore import QAbstractListModel, QModelIndex, QObject, QSize, Qt, Signal
from PySide6.QtGui import QImage, QPixmap
from PySide6.QtWidgets import QAbstractItemView, QListView, QWidget

from stringerlab.desktop.models.rows import NOWHERE, Index
from stringerlab.desktop.paper.documents import Page

_SMALL = QSize(66, 86)
WIDTH = 118


class PageModel(QAbstractListModel):
    """Pages from first to last."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._pages: Sequence[Page] = ()
        self._pictures: dict[int, QPixmap] = {}

    def show_pages(self, pages: Sequence[Page]) -> None:
        """Show pages in place of those there."""
        self.beginResetModel()
        self._pages = pages
        self._pictures = {}
        self.endResetModel()

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return how many pages there are."""
        return 0 if parent.isValid() else len(self._pages)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return a page's number, its picture, and what document it is of."""
        if not index.isValid():
            return None
        row = index.row()
        said = f"{self._pages[row].document}, page {row + 1} of {len(self._pages)}"
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return str(row + 1)
            case Qt.ItemDataRole.DecorationRole:
                return self._picture(row)
            case Qt.ItemDataRole.ToolTipRole | Qt.ItemDataRole.AccessibleTextRole:
                return said
            case _:
                return None

    def _picture(self, row: int) -> QPixmap:
        if row not in self._pictures:
            whole = QImage.fromData(self._pages[row].png)
            kept, smooth = Qt.AspectRatioMode.KeepAspectRatio, Qt.TransformationMode.SmoothTransformation
            self._pictures[row] = QPixmap.fromImage(whole.scaled(_SMALL, kept, smooth))
        return self._pictures[row]


class PageList(QListView):
    """The list; choosing a page shows it."""

    chosen = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("List of pages")
        self.setFixedWidth(WIDTH)
        self.setIconSize(_SMALL)
        self.setUniformItemSizes(True)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSpacing(2)
        self.pages = PageModel(self)
        self.setModel(self.pages)
        self._following = False
        self.selectionModel().currentChanged.connect(self._choose)

    def follow(self, page: int) -> None:
        """Mark a page as the one seen."""
        self._following = True
        self.setCurrentIndex(self.pages.index(page, 0))
        self._following = False

    def _choose(self, current: QModelIndex, previous: QModelIndex) -> None:
        del previous
        if current.isValid() and not self._following:
            self.chosen.emit(current.row())


__all__ = ["WIDTH", "PageList", "PageModel"]
