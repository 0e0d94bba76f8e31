"""Opening, saving and leaving projects: what the File menu does, and what is found again after a kill.

Nothing here blocks: a question or a file dialog opens, and what was asked for goes on when it is answered.
"""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QFileDialog, QMessageBox, QWidget

from stringerlab.data import folder
from stringerlab.desktop.banner import Banner, Offer
from stringerlab.desktop.recovery import Keeper, Kept, left_behind
from stringerlab.desktop.session import Session
from stringerlab.desktop.settings import Place, Settings, Store
from stringerlab.errors import Problem, StringerlabError
from stringerlab.files import load, save

_FILTER = "stringerlab projects (*.json);;All files (*)"


class Documents(QObject):
    """The one project of a window: which file it is, what was asked before it is left, what is remembered."""

    opened = Signal()
    """Another project is shown: go to its place."""
    closed = Signal()
    """No project is shown."""
    saved = Signal()

    def __init__(
        self, session: Session, store: Store, banner: Banner, window: QWidget, *, has_project: bool
    ) -> None:
        super().__init__(window)
        self._session, self._store, self._banner, self._window = session, store, banner, window
        self.has_project = has_project
        self.place: Callable[[], Place] = Place
        """Says where the person is in the project."""
        self.keeper = Keeper(session, parent=self)
        self._warned = False
        self.keeper.kept.connect(self._kept)

    # -- settings --------------------------------------------------------------------------------

    @property
    def settings(self) -> Settings:
        """What is remembered, as the file says now."""
        return self._store.read()

    def remember(self, **changes: object) -> None:
        """Remember some settings anew; other windows' changes to the others stay."""
        self._store.write(replace(self.settings, **changes))  # pyright: ignore[reportArgumentType]

    # -- beginning -------------------------------------------------------------------------------

    def begin_new(self) -> None:
        """Begin a new boat."""
        from stringerlab.project.beginning import new_boat

        self.leave(lambda: self._begin(lambda: self._session.begin(new_boat(self._session.units))))

    def begin_sample(self, name: str) -> None:
        """Begin from a sample; it has no file until it is saved."""
        path = folder("sample_projects") / f"{name}.json"
        self.leave(lambda: self._begin(lambda: self._session.begin(load(path))))

    def ask_open(self) -> None:
        """Ask for a file and open it."""
        dialog = self._dialog("Open a project", QFileDialog.AcceptMode.AcceptOpen)
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.fileSelected.connect(self._open_named)
        dialog.open()

    def _open_named(self, name: str) -> None:
        self.open(Path(name))

    def open(self, path: Path) -> None:
        """Open a file, after asking about what is unsaved."""
        self.leave(lambda: self._begin(lambda: self._session.open(path.absolute()), path.absolute()))

    def _begin(self, begins: Callable[[], None], path: Path | None = None) -> None:
        self._leave_place()
        try:
            begins()
        except StringerlabError as refused:
            self.say_refused(refused, path)
            return
        self._banner.hide()
        self._shown()

    def say_refused(self, refused: StringerlabError, path: Path | None) -> None:
        """Say why a file was not opened; what can be read but is held by another can be opened as a copy."""
        offers: list[Offer] = []
        if path is not None and _readable(path):
            offers = [Offer("Open a copy", lambda: self._begin(lambda: self._session.begin(load(path))))]
        self._banner.say([str(problem) for problem in refused.problems], offers, wrong=True)

    def _shown(self) -> None:
        self.has_project = True
        self.remember_opened()
        self.opened.emit()

    def remember_opened(self) -> None:
        """Remember the file shown as the most recent."""
        if path := self._session.path:
            self._store.write(self.settings.opened(path))

    def _leave_place(self) -> None:
        if self.has_project and (path := self._session.path):
            self._store.write(self.settings.left(path, self.place()))

    # -- saving ----------------------------------------------------------------------------------

    def save(self, then: Callable[[], None] | None = None) -> None:
        """Save to the project's file; ask for one when it has none."""
        if self._session.path is None:
            self.ask_save_as(then)
        else:
            self._save(None, then)

    def ask_save_as(self, then: Callable[[], None] | None = None) -> None:
        """Ask for a file, save there and go on there."""
        dialog = self._dialog("Save the project as", QFileDialog.AcceptMode.AcceptSave)

        def chosen(name: str) -> None:
            self._save(Path(name), then)

        dialog.fileSelected.connect(chosen)
        dialog.open()

    def ask_save_copy(self) -> None:
        """Ask for a file and save there, the project staying with its own."""
        dialog = self._dialog("Save a copy", QFileDialog.AcceptMode.AcceptSave)
        dialog.fileSelected.connect(self._save_copy_named)
        dialog.open()

    def _save_copy_named(self, name: str) -> None:
        self.save_copy(Path(name))

    def save_copy(self, path: Path) -> None:
        """Save to a file, the project staying with its own."""
        try:
            save(self._session.project, path)
        except StringerlabError as refused:
            self._refused(refused)
            return
        self._session.said.emit(f"Saved a copy as {path}.")

    def _save(self, path: Path | None, then: Callable[[], None] | None) -> None:
        try:
            self._session.save(path.absolute() if path else None)
        except StringerlabError as refused:
            self._refused(refused)
            return
        saved = self._session.path
        if saved is not None:
            self._store.write(self.settings.opened(saved))
            self._session.said.emit(f"Saved {saved.name}.")
        self.saved.emit()
        if then is not None:
            then()

    def _refused(self, refused: StringerlabError) -> None:
        lines = [
            *(str(problem) for problem in refused.problems),
            "The project here is as it was; nothing is lost.",
        ]
        self._banner.say(lines, [Offer("Save a copy…", self.ask_save_copy)], wrong=True)

    # -- leaving ---------------------------------------------------------------------------------

    def leave(self, then: Callable[[], None]) -> None:
        """Go on at once when all is saved; else ask first: save, leave unsaved, or stay."""
        if not (self.has_project and self._session.unsaved):
            then()
            return
        box = QMessageBox(self._window)
        box.setObjectName("leaving")
        box.setWindowTitle("Unsaved changes")
        box.setText(f"“{self._session.project.name}” has changes that are not saved.")
        keep = box.addButton("Save", QMessageBox.ButtonRole.AcceptRole)
        drop = box.addButton("Don’t save", QMessageBox.ButtonRole.DestructiveRole)
        box.addButton("Stay here", QMessageBox.ButtonRole.RejectRole)
        box.setDefaultButton(keep)

        def answered() -> None:
            pressed = box.clickedButton()
            box.deleteLater()
            if pressed is keep:
                self.save(then)
            elif pressed is drop:
                then()

        box.finished.connect(answered)
        box.open()

    def close(self) -> None:
        """Close the project, after asking about what is unsaved."""
        self.leave(self._close)

    def _close(self) -> None:
        self._leave_place()
        self.has_project = False
        self._session.begin(self._session.project)
        self.closed.emit()

    def end(self) -> None:
        """End with the window: the place is remembered, nothing stays to be recovered."""
        self._leave_place()
        self.keeper.close()

    # -- recovery --------------------------------------------------------------------------------

    def offer_recovery(self) -> None:
        """Offer work that an earlier run could not save; more than one, the latest first."""
        found = left_behind()
        if not found:
            return
        kept = found[0]
        when = kept.when.astimezone().strftime("%d %B %Y, %H:%M")
        lines = [f"Found unsaved work on “{kept.name}” from {when}; the program ended before it was saved."]
        lines.append(f"Its file: {kept.path}" if kept.path else "It had no file yet.")
        if len(found) > 1:
            lines.append(f"There are {len(found) - 1} more; the next is offered after this one.")
        self._banner.say(
            lines, [Offer("Recover", lambda: self.recover(kept)), Offer("Discard", lambda: self._drop(kept))]
        )

    def recover(self, kept: Kept) -> None:
        """Show work found again; it stays kept until it is kept anew."""
        self.leave(lambda: self._recover(kept))

    def _recover(self, kept: Kept) -> None:
        self._leave_place()
        try:
            project = kept.project()
        except StringerlabError as refused:
            lines = [*(str(problem) for problem in refused.problems), f"It stays in {kept.file}."]
            self._banner.say(lines, wrong=True)
            return

        def safe(done: bool) -> None:
            if done:
                self.keeper.kept.disconnect(safe)
                kept.discard()

        self.keeper.kept.connect(safe)
        self._session.recover(project, kept.path)
        self._shown()

    def _drop(self, kept: Kept) -> None:
        kept.discard()
        self.offer_recovery()

    def _kept(self, done: bool) -> None:
        if not done and not self._warned:
            problem = Problem(
                "Unsaved work cannot be kept for recovery.",
                str(self.keeper.file.parent),
                "Save often; see whether that folder may be written and its disk has space.",
            )
            self._banner.say([str(problem)], wrong=True)
        self._warned = not done

    def _dialog(self, title: str, mode: QFileDialog.AcceptMode) -> QFileDialog:
        path = self._session.path
        recent = self.settings.recent
        start = path.parent if path else Path(recent[0]).parent if recent else Path.home()
        dialog = QFileDialog(self._window, title, str(start), _FILTER)
        dialog.setAcceptMode(mode)
        dialog.finished.connect(dialog.deleteLater)
        if mode is QFileDialog.AcceptMode.AcceptSave:
            dialog.setDefaultSuffix("json")
            dialog.selectFile(path.name if path else f"{_file_name(self._session.project.name)}.json")
        return dialog


def _file_name(name: str) -> str:
    """Return a plain file name for a project of a name."""
    kept = "".join(c if c.isalnum() else "_" for c in name.lower()).strip("_")
    while "__" in kept:
        kept = kept.replace("__", "_")
    return kept[:60] or "boat"


def _readable(path: Path) -> bool:
    try:
        load(path)
    except StringerlabError:
        return False
    return True
