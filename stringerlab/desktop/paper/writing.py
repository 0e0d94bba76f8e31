"""Documents, drawings and tables into files: where to is asked, the work is done off the window's thread.

A file is whole or not there: it is written beside its place and put there when it is done.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QObject, QUrl, Signal
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QFileDialog, QWidget

from stringerlab.desktop.jobs import Job, Watch
from stringerlab.desktop.paper.documents import Given, Kind, Made, Wanted, documents, export, load_libraries
from stringerlab.desktop.session import Session
from stringerlab.errors import Problem, StringerlabError
from stringerlab.report.exports import FORMS, Form, What
from stringerlab.report.writing import written, written_all

WORDS = {
    What.SECTIONS: "Sections",
    What.LAYOUT: "Layout",
    What.FINDINGS: "Findings",
    What.PROPERTIES: "Properties of sections",
    What.TAKEOFF: "Take-off",
}
FORM_WORDS = {
    Form.SVG: "drawing (SVG)",
    Form.DXF: "drawing (DXF)",
    Form.CSV: "table (CSV)",
}
_NAMES = {Kind.REPORT: "report", Kind.COMPARISON: "comparison"}


@dataclass(frozen=True, slots=True)
class Written:
    """The files written, and what keeps things from being in them."""

    paths: tuple[Path, ...]
    left_out: tuple[Problem, ...] = ()


class Writer(QObject):
    """Writes one thing at a time; what is asked for meanwhile is refused, and that is said."""

    changed = Signal()
    """Writing has begun or ended."""
    progress = Signal(float, str)
    done = Signal(object)
    """What was ``Written``."""

    def __init__(self, session: Session, window: QWidget) -> None:
        super().__init__(window)
        self._session, self._window = session, window
        self.maker: Callable[[Wanted, Given, Made | None, Watch], Mapping[str, bytes]] = documents
        self.folder: Path | None = None
        """Where something was written last."""
        self.opens: Callable[[QUrl], bool] = QDesktopServices.openUrl
        self._job = Job(self)
        self._job.finished.connect(self._take)
        self._job.failed.connect(self._refuse)
        self._job.progress.connect(self.progress)

    @property
    def busy(self) -> bool:
        """Whether something is being written."""
        return self._job.busy

    # -- asking where to -------------------------------------------------------------------------

    def ask_document(self, wanted: Wanted, given: Given, made: Made | None) -> None:
        """Ask for a file and write a document to it; shop sheets into a folder."""
        if wanted.kind is Kind.SHOP:
            self.ask_sheets(given, made)
            return
        name = f"{_plain(given.project.name)}_{_NAMES[wanted.kind]}.pdf"
        title = "Write the report" if wanted.kind is Kind.REPORT else "Write the comparison sheet"
        dialog = self._dialog(title, name, "PDF document (*.pdf)", "pdf")

        def chosen(file: str) -> None:
            self.write_document(Path(file), wanted, given, made)

        dialog.fileSelected.connect(chosen)
        dialog.open()

    def ask_sheets(self, given: Given, made: Made | None) -> None:
        """Ask for a folder and write the shop sheets into it."""
        dialog = QFileDialog(self._window, "Write the shop sheets into a folder", str(self._start()))
        dialog.setFileMode(QFileDialog.FileMode.Directory)
        dialog.setOption(QFileDialog.Option.ShowDirsOnly, True)
        dialog.setLabelText(QFileDialog.DialogLabel.Accept, "Write here")
        dialog.finished.connect(dialog.deleteLater)

        def chosen(folder: str) -> None:
            self.write_sheets(Path(folder), given, made)

        dialog.fileSelected.connect(chosen)
        dialog.open()

    def ask_export(self, what: What, form: Form, given: Given) -> None:
        """Ask for a file and write a drawing or table to it."""
        name = f"{_plain(given.project.name)}_{what.value}.{form.value}"
        kinds = ";;".join(f"{FORM_WORDS[each].capitalize()} (*.{each.value})" for each in FORMS[what])
        dialog = self._dialog(f"Export {WORDS[what].lower()}", name, kinds, form.value)
        first = next(kind for kind in kinds.split(";;") if kind.endswith(f"(*.{form.value})"))
        dialog.selectNameFilter(first)

        def other_kind(kind: str) -> None:
            dialog.setDefaultSuffix(kind.rsplit("*.", 1)[-1].rstrip(")"))

        def chosen(file: str) -> None:
            self.write_export(what, Path(file), given)

        dialog.filterSelected.connect(other_kind)
        dialog.fileSelected.connect(chosen)
        dialog.open()

    # -- writing ---------------------------------------------------------------------------------

    def write_document(self, path: Path, wanted: Wanted, given: Given, made: Made | None = None) -> None:
        """Write a document of one file."""
        maker = self.maker

        def work(watch: Watch) -> Written:
            [data] = maker(wanted, given, made, watch).values()
            watch(1.0, f"Writing {path.name}")
            return Written((written(path, data),))

        self._start_on(work)

    def write_sheets(self, folder: Path, given: Given, made: Made | None = None) -> None:
        """Write the shop sheets into a folder, in place of sheets of the same names."""
        maker = self.maker

        def work(watch: Watch) -> Written:
            files = maker(Wanted(kind=Kind.SHOP), given, made, watch)
            watch(1.0, f"Writing {len(files)} sheets")
            return Written(written_all(folder, files))

        self._start_on(work)

    def write_export(self, what: What, path: Path, given: Given) -> None:
        """Write a drawing or table in the form of the file's ending."""

        def work(watch: Watch) -> Written:
            data, left_out = export(what, path, given, watch)
            watch(1.0, f"Writing {path.name}")
            return Written((written(path, data),), left_out)

        self._start_on(work)

    def stop(self) -> None:
        """Give up what is being written; no file is left half written."""
        if self._job.busy:
            self._job.cancel()
            self._session.said.emit("Stopped; no file is half written.")
            self.changed.emit()

    def open_folder(self) -> None:
        """Open the folder that something was written to last."""
        if self.folder is None:
            return
        if not (self.folder.is_dir() and self.opens(QUrl.fromLocalFile(str(self.folder)))):
            self._session.problem.emit(
                StringerlabError(
                    Problem(
                        "The folder cannot be opened from here.",
                        str(self.folder),
                        "Open it in your file manager.",
                    )
                )
            )

    # -- inside ----------------------------------------------------------------------------------

    def _start_on(self, work: Callable[[Watch], Written]) -> None:
        if self._job.busy:
            busy = Problem(
                "Something is being written already.", "page Paper", "Wait for its end, or stop it."
            )
            self._session.problem.emit(StringerlabError(busy))
            return
        load_libraries()
        self._job.start(work)
        self.changed.emit()

    def _take(self, made: Written) -> None:
        self.folder = made.paths[0].absolute().parent
        count = len(made.paths)
        what = made.paths[0].name if count == 1 else f"{count} sheets"
        self._session.said.emit(f"Written: {what} in {self.folder}.")
        self.changed.emit()
        self.done.emit(made)

    def _refuse(self, error: StringerlabError) -> None:
        self._session.problem.emit(error)
        self.changed.emit()

    def _start(self) -> Path:
        path = self._session.path
        return self.folder or (path.parent if path is not None else Path.home())

    def _dialog(self, title: str, name: str, kinds: str, suffix: str) -> QFileDialog:
        dialog = QFileDialog(self._window, title, str(self._start()), kinds)
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setDefaultSuffix(suffix)
        dialog.selectFile(name)
        dialog.finished.connect(dialog.deleteLater)
        return dialog


def _plain(name: str) -> str:
    """Return a project's name as part of a file's: letters and digits, the rest as one low line."""
    kept = "".join(sign if sign.isalnum() else " " for sign in name).split()
    return "_".join(kept).lower()[:60] or "boat"


__all__ = ["FORM_WORDS", "WORDS", "Writer", "Written"]
