"""The page Paper: pages set off the window's thread, particulars typed, files written whole or not at all."""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator, Mapping
from pathlib import Path
from threading import Event
from typing import TYPE_CHECKING, Any, cast

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QAbstractItemView, QApplication, QFileDialog, QLineEdit

from stringerlab.data import folder
from stringerlab.desktop.jobs import Watch
from stringerlab.desktop.pages.paper import PaperPage
from stringerlab.desktop.paper.documents import (
    Given,
    Kind,
    Made,
    Page,
    Wanted,
    chosen_for,
    documents,
    preview,
)
from stringerlab.desktop.paper.previewing import State
from stringerlab.desktop.session import Session
from stringerlab.errors import Problem, StringerlabError
from stringerlab.files import dumps, load
from stringerlab.project import PageSize, Revision
from stringerlab.project.paper_edits import with_paper, with_revision
from stringerlab.report.exports import Form, What

if TYPE_CHECKING:
    from pytestqt.modeltest import ModelTester
    from pytestqt.qtbot import QtBot

    from stringerlab.desktop.window import Window

SAMPLE = folder("sample_projects") / "eelgrass_workboat.json"


def png(width: int, height: int) -> bytes:
    """A white page of so many dots, as PNG."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    rows = (b"\x00" + b"\xff" * width) * height
    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"IDAT", zlib.compress(rows))
        + chunk(b"IEND", b"")
    )


class Maker:
    """Stands in for what sets pages: it counts, may wait for a word, may refuse."""

    def __init__(self) -> None:
        self.asked: list[tuple[Wanted, Given]] = []
        self.may_go = Event()
        self.may_go.set()
        self.refuses: StringerlabError | None = None
        self.problems: tuple[Problem, ...] = ()
        self.pages = (Page(png=png(992, 1403), document="Report"),) * 5

    def preview(self, wanted: Wanted, given: Given, watch: Watch) -> Made:
        self.asked.append((wanted, given))
        watch(0.5, "Setting the pages")
        while not self.may_go.wait(0.01):
            watch(0.5, "Setting the pages")
        if self.refuses is not None:
            raise self.refuses
        return Made(wanted=wanted, given=given, pages=self.pages, problems=self.problems)

    def documents(self, wanted: Wanted, given: Given, made: Made | None, watch: Watch) -> Mapping[str, bytes]:
        made = self.preview(wanted, given, watch)
        names = ["1-laminates.pdf", "2-materials.pdf"] if wanted.kind is Kind.SHOP else ["report.pdf"]
        return {name: b"%PDF " + made.given.project.paper.number.encode() for name in names}


@pytest.fixture
def maker() -> Maker:
    return Maker()


@pytest.fixture
def page(session: Session, qtbot: QtBot, maker: Maker) -> Iterator[PaperPage]:
    made = PaperPage(session)
    made.previewer.maker = maker.preview
    made.writer.maker = maker.documents
    qtbot.addWidget(made)
    made.resize(1180, 700)
    with qtbot.waitExposed(made):
        made.show()
    settled(made, qtbot)
    yield made
    maker.may_go.set()
    made.hide()
    made.writer.stop()


def said_in(told: object) -> Any:
    """What a signal that was waited for has brought."""
    args = cast(Any, told).args
    assert args
    return args[0]


def settled(page: PaperPage, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: not page.busy and not page._session.busy, timeout=60_000)


# -- pages -------------------------------------------------------------------------------------


def test_pages_are_set_when_the_page_is_seen_from_the_results_of_the_check(
    page: PaperPage, maker: Maker, qtmodeltester: ModelTester
) -> None:
    [(wanted, given)] = maker.asked
    assert wanted == Wanted(kind=Kind.REPORT, workings="governing", second_opinion=False)
    assert given.results is page._session.results
    assert given.results is not None
    assert page.previewer.state is State.FRESH
    assert page.view.count == 5
    assert page.bar.place.text() == "Page 1 of 5"
    assert page.bar.says.text() == "As the project is now."
    assert page.bar.refresh.isVisible()
    assert page.bar.stop.isHidden()
    qtmodeltester.check(page.list.pages)


def test_keys_turn_pages_and_change_their_size(page: PaperPage, qtbot: QtBot) -> None:
    view = page.view
    view.setFocus()
    assert view.fits_width
    fitted = view.zoom
    room = view.viewport().width()
    assert 0.9 * room < 992 * 96 / 120 * fitted < room
    qtbot.keyClick(view, Qt.Key.Key_PageDown)
    qtbot.keyClick(view, Qt.Key.Key_PageDown)
    assert view.page == 2
    assert page.bar.place.text() == "Page 3 of 5"
    assert page.list.currentIndex().row() == 2
    qtbot.keyClick(view, Qt.Key.Key_Plus)
    assert view.zoom == pytest.approx(1.25 * fitted)
    assert view.page == 2
    assert not page.bar.fit.isChecked()
    assert page.bar.size_shown.text() == f"{125 * fitted:.0f} %"
    qtbot.keyClick(view, Qt.Key.Key_W)
    assert view.zoom == pytest.approx(fitted)
    assert page.bar.fit.isChecked()
    qtbot.keyClick(view, Qt.Key.Key_End)
    assert view.page == 4
    qtbot.keyClick(view, Qt.Key.Key_PageUp)
    qtbot.keyClick(view, Qt.Key.Key_Home)
    assert view.page == 0


def test_ctrl_and_wheel_change_the_size_and_buttons_do(page: PaperPage, qtbot: QtBot) -> None:
    view = page.view
    fitted = view.zoom
    turn = QWheelEvent(
        QPointF(50, 50),
        QPointF(view.mapToGlobal(QPoint(50, 50))),
        QPoint(),
        QPoint(0, -120),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.ControlModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(view.viewport(), turn)
    assert view.zoom == pytest.approx(fitted / 1.25)
    qtbot.mouseClick(page.bar.plus, Qt.MouseButton.LeftButton)
    assert view.zoom == pytest.approx(fitted)
    qtbot.mouseClick(page.bar.fit, Qt.MouseButton.LeftButton)
    assert view.fits_width


def test_a_click_in_the_list_shows_its_page(page: PaperPage, qtbot: QtBot) -> None:
    model = page.list.pages
    place = page.list.visualRect(model.index(1, 0)).center()
    qtbot.mouseClick(page.list.viewport(), Qt.MouseButton.LeftButton, pos=place)
    assert page.view.page == 1
    assert model.index(1, 0).data(Qt.ItemDataRole.ToolTipRole) == "Report, page 2 of 5"


def test_an_edit_makes_pages_stale_until_they_are_set_by_themselves(
    page: PaperPage, qtbot: QtBot, maker: Maker
) -> None:
    page.view.go_to(3)
    field = page.form.lines["client"]
    field.setFocus()
    qtbot.keyClicks(field, "Saltmarsh Boats")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert "before the last change" in page.bar.says.text()
    assert page.view.count == 5
    settled(page, qtbot)
    assert len(maker.asked) == 2
    assert maker.asked[1][1].project.paper.client == "Saltmarsh Boats"
    assert maker.asked[1][1].results is page._session.results
    assert page.bar.says.text() == "As the project is now."
    assert page.view.page == 3


def test_slow_pages_wait_for_refresh(page: PaperPage, qtbot: QtBot, maker: Maker) -> None:
    page.previewer.quick = -1.0
    page._session.edit("Change client", with_paper, client="Saltmarsh Boats")
    settled(page, qtbot)
    assert page.previewer.state is State.STALE
    assert page.bar.says.text() == "These pages are of before the last change."
    assert len(maker.asked) == 1
    qtbot.mouseClick(page.bar.refresh, Qt.MouseButton.LeftButton)
    settled(page, qtbot)
    assert len(maker.asked) == 2
    assert page.previewer.state is State.FRESH


def test_undo_back_to_what_is_shown_makes_it_fresh_again(page: PaperPage, qtbot: QtBot) -> None:
    page.previewer.quick = -1.0
    page._session.edit("Change client", with_paper, client="Saltmarsh Boats")
    page._session.undo()
    settled(page, qtbot)
    assert page.previewer.state is State.FRESH


def test_pages_of_another_boat_go_when_one_is_opened(page: PaperPage, qtbot: QtBot, maker: Maker) -> None:
    page.previewer.quick = -1.0
    other = load(folder("sample_projects") / "first_hat_lesson.json")
    page._session.begin(other)
    assert page.view.count == 0
    page.previewer.refresh()
    settled(page, qtbot)
    assert maker.asked[-1][1].project is other
    assert page.view.count == 5


def test_saving_leaves_pages_as_they_are(page: PaperPage, qtbot: QtBot, maker: Maker, tmp_path: Path) -> None:
    page._session.save(tmp_path / "boat.json")
    assert page.previewer.state is State.FRESH
    assert len(maker.asked) == 1


def test_no_pages_are_set_out_of_sight(page: PaperPage, qtbot: QtBot, maker: Maker) -> None:
    page.hide()
    page._session.edit("Change client", with_paper, client="Saltmarsh Boats")
    settled(page, qtbot)
    assert len(maker.asked) == 1
    page.show()
    settled(page, qtbot)
    assert len(maker.asked) == 2


def test_stop_ends_the_setting_and_refresh_begins_anew(page: PaperPage, qtbot: QtBot, maker: Maker) -> None:
    maker.may_go.clear()
    page.choice.workings.setFocus()
    qtbot.keyClick(page.choice.workings, Qt.Key.Key_Down)
    qtbot.waitUntil(lambda: page.bar.progress.value() == 500)
    assert page.bar.says.text() == "Setting the pages …"
    assert page.view.count == 0
    qtbot.mouseClick(page.bar.stop, Qt.MouseButton.LeftButton)
    assert page.previewer.state is State.STOPPED
    assert page.bar.says.text() == "Stopped. Refresh sets the pages."
    maker.may_go.set()
    qtbot.mouseClick(page.bar.refresh, Qt.MouseButton.LeftButton)
    settled(page, qtbot)
    assert page.view.count == 5
    assert maker.asked[-1][0].workings == "all"


def test_choices_make_the_document(page: PaperPage, qtbot: QtBot, maker: Maker) -> None:
    qtbot.mouseClick(
        page.choice.second, Qt.MouseButton.LeftButton, pos=QPoint(8, page.choice.second.height() // 2)
    )
    settled(page, qtbot)
    assert maker.asked[-1][0].second_opinion
    page.choice.kind.setFocus()
    qtbot.keyClick(page.choice.kind, Qt.Key.Key_Down)
    settled(page, qtbot)
    assert maker.asked[-1][0].kind is Kind.SHOP
    assert not page.choice.workings.isVisible()
    assert not page.write.isEnabled()
    qtbot.keyClick(page.choice.kind, Qt.Key.Key_Down)
    settled(page, qtbot)
    assert maker.asked[-1][0].kind is Kind.COMPARISON
    assert page.write.isEnabled()


def test_what_cannot_be_shown_says_why_and_what_to_do(page: PaperPage, qtbot: QtBot, maker: Maker) -> None:
    maker.refuses = StringerlabError(Problem("There is nothing to report.", "project 'x'", "Add a panel."))
    page.choice.choose(Kind.COMPARISON)
    settled(page, qtbot)
    assert page.previewer.state is State.REFUSED
    for said in ("There is nothing to report.", "Project 'x'", "Add a panel."):
        assert said in page.view.words
    assert page.view.count == 0
    maker.refuses = None
    page._session.edit("Change client", with_paper, client="Saltmarsh Boats")
    settled(page, qtbot)
    assert page.view.count == 5


def test_what_is_not_in_a_document_is_named(page: PaperPage, qtbot: QtBot, maker: Maker) -> None:
    maker.problems = (Problem("It has no laminate.", "panel 'Keel bay'", "Choose one."),)
    page.previewer.refresh()
    settled(page, qtbot)
    assert "Not in it" in page.strip.text
    assert "Keel bay" in page.strip.text


# -- what stands on the paper ------------------------------------------------------------------


def test_particulars_are_edits_that_undo_takes_back(page: PaperPage, qtbot: QtBot) -> None:
    session = page._session
    for name, typed in (("number", "EG-72"), ("author", "M. Holloway"), ("date", "12 March 2031")):
        field = page.form.lines[name]
        field.setFocus()
        qtbot.keyClicks(field, typed)
        qtbot.keyClick(field, Qt.Key.Key_Return)
        assert getattr(session.project.paper, name) == typed
    assert session.undo_label == "Change date"
    session.undo()
    assert session.project.paper.date == ""
    assert page.form.lines["date"].text() == ""
    settled(page, qtbot)


def test_escape_takes_typing_back_and_leaving_unchanged_is_no_edit(page: PaperPage, qtbot: QtBot) -> None:
    field = page.form.lines["number"]
    field.setFocus()
    qtbot.keyClicks(field, "wrong")
    qtbot.keyClick(field, Qt.Key.Key_Escape)
    assert field.text() == ""
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert page._session.undo_label is None


def test_page_size_is_an_edit(page: PaperPage, qtbot: QtBot) -> None:
    choice = page.form.size_choice
    choice.setFocus()
    qtbot.keyClick(choice, Qt.Key.Key_Down)
    assert page._session.project.paper.size is PageSize.LETTER
    page._session.undo()
    assert choice.value == "A4"
    settled(page, qtbot)


def test_changes_are_added_typed_and_removed_by_key(
    page: PaperPage, qtbot: QtBot, qtmodeltester: ModelTester
) -> None:
    session, table = page._session, page.form.table
    session.edit("Change author", with_paper, author="M. Holloway")
    qtbot.mouseClick(page.form.add_button, Qt.MouseButton.LeftButton)
    assert session.project.paper.changes == (Revision(revision="A", author="M. Holloway"),)
    qtbot.keyClick(table, Qt.Key.Key_Insert)
    assert [line.revision for line in session.project.paper.changes] == ["A", "B"]
    table.setCurrentIndex(page.form.model.index(1, 3))
    qtbot.keyClick(table, Qt.Key.Key_Return)
    editor = table.findChild(QLineEdit)
    assert editor is not None
    qtbot.keyClicks(editor, "Floors doubled")
    qtbot.keyClick(editor, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: table.state() == QAbstractItemView.State.NoState)
    assert session.project.paper.changes[1].change == "Floors doubled"
    assert session.undo_label == "Change description in the list of changes"
    qtmodeltester.check(page.form.model)
    table.setCurrentIndex(page.form.model.index(0, 0))
    qtbot.keyClick(table, Qt.Key.Key_Delete)
    assert [line.revision for line in session.project.paper.changes] == ["B"]
    session.undo()
    assert [line.revision for line in session.project.paper.changes] == ["A", "B"]
    settled(page, qtbot)


@pytest.mark.parametrize(("before", "after"), [("", "A"), ("B", "C"), ("3", "4"), ("Z", ""), ("B2", "")])
def test_a_revision_is_named_after_the_one_before(before: str, after: str) -> None:
    project = with_paper(load(SAMPLE), changes=(Revision(revision=before),))
    assert with_revision(project).paper.changes[-1].revision == after


# -- files -------------------------------------------------------------------------------------


def dialog_of(page: PaperPage) -> QFileDialog:
    dialog = page.findChild(QFileDialog)
    assert isinstance(dialog, QFileDialog)
    return dialog


def test_write_pdf_asks_where_and_writes_the_project_as_it_is(
    page: PaperPage, qtbot: QtBot, tmp_path: Path, maker: Maker
) -> None:
    page.previewer.quick = -1.0
    page._session.edit("Change number", with_paper, number="EG-72")
    settled(page, qtbot)
    qtbot.mouseClick(page.write, Qt.MouseButton.LeftButton)
    dialog = dialog_of(page)
    assert dialog.defaultSuffix() == "pdf"
    dialog.fileSelected.emit(str(tmp_path / "out.pdf"))
    dialog.reject()
    with qtbot.waitSignal(page.writer.done):
        pass
    assert (tmp_path / "out.pdf").read_bytes() == b"%PDF EG-72"
    assert list(tmp_path.iterdir()) == [tmp_path / "out.pdf"]


def test_shop_sheets_go_into_a_folder_which_can_be_opened(
    page: PaperPage, qtbot: QtBot, tmp_path: Path
) -> None:
    assert not page.folder.isEnabled()
    opened: list[QUrl] = []
    page.writer.opens = lambda url: not opened.append(url)
    qtbot.mouseClick(page.sheets, Qt.MouseButton.LeftButton)
    dialog = dialog_of(page)
    assert dialog.fileMode() is QFileDialog.FileMode.Directory
    with qtbot.waitSignals([page.writer.done, page._session.said]):
        dialog.fileSelected.emit(str(tmp_path / "sheets"))
        dialog.reject()
    assert sorted(file.name for file in (tmp_path / "sheets").iterdir()) == [
        "1-laminates.pdf",
        "2-materials.pdf",
    ]
    qtbot.mouseClick(page.folder, Qt.MouseButton.LeftButton)
    assert [Path(url.toLocalFile()) for url in opened] == [tmp_path / "sheets"]


def test_a_folder_that_does_not_open_is_said(page: PaperPage, qtbot: QtBot, tmp_path: Path) -> None:
    page.writer.folder = tmp_path / "gone"
    with qtbot.waitSignal(page._session.problem) as told:
        page.writer.open_folder()
    assert "cannot be opened" in str(said_in(told))


def test_stop_while_writing_leaves_no_file(
    page: PaperPage, qtbot: QtBot, tmp_path: Path, maker: Maker
) -> None:
    (tmp_path / "out.pdf").write_bytes(b"former")
    maker.may_go.clear()
    page.writer.write_document(tmp_path / "out.pdf", page.choice.wanted, page.previewer.given())
    assert not page.write.isEnabled()
    qtbot.waitUntil(lambda: page.bar.progress.value() == 500)
    with qtbot.waitSignal(page._session.said) as told:
        qtbot.mouseClick(page.bar.stop, Qt.MouseButton.LeftButton)
    assert "half written" in said_in(told)
    maker.may_go.set()
    page.writer._job.wait()
    assert (tmp_path / "out.pdf").read_bytes() == b"former"
    assert list(tmp_path.iterdir()) == [tmp_path / "out.pdf"]
    assert page.write.isEnabled()


def test_a_place_that_cannot_be_written_is_said_with_what_to_do(
    page: PaperPage, qtbot: QtBot, tmp_path: Path
) -> None:
    with qtbot.waitSignal(page._session.problem) as told:
        page.writer.write_document(
            tmp_path / "missing" / "out.pdf", page.choice.wanted, page.previewer.given()
        )
    [problem] = said_in(told).problems
    assert "missing" in problem.where
    assert problem.remedy
    assert not page.writer.busy
    assert list(tmp_path.iterdir()) == []


def test_one_thing_is_written_at_a_time(page: PaperPage, qtbot: QtBot, tmp_path: Path, maker: Maker) -> None:
    maker.may_go.clear()
    page.writer.write_document(tmp_path / "a.pdf", page.choice.wanted, page.previewer.given())
    with qtbot.waitSignal(page._session.problem) as told:
        page.writer.write_document(tmp_path / "b.pdf", page.choice.wanted, page.previewer.given())
    assert "already" in str(said_in(told))
    with qtbot.waitSignal(page.writer.done):
        maker.may_go.set()
    assert list(tmp_path.iterdir()) == [tmp_path / "a.pdf"]


def test_export_offers_every_form_and_writes_it(page: PaperPage, qtbot: QtBot, tmp_path: Path) -> None:
    qtbot.mouseClick(page.export, Qt.MouseButton.LeftButton)
    assert page.exports.isVisible()
    words = [action.text() for action in page.exports.actions()]
    assert "Layout: drawing (DXF)…" in words
    assert "Take-off: table (CSV)…" in words
    assert len(words) == 7
    page.exports.close()
    for what, form, begins in (
        (What.SECTIONS, Form.SVG, b"<"),
        (What.SECTIONS, Form.DXF, b"  0"),
        (What.FINDINGS, Form.CSV, b""),
    ):
        file = tmp_path / f"{what}.{form}"
        with qtbot.waitSignal(page.writer.done, timeout=30_000):
            page.writer.write_export(what, file, page.previewer.given())
        assert file.read_bytes().startswith(begins)
        assert file.stat().st_size > 500


def test_an_export_of_what_there_is_not_says_so(page: PaperPage, qtbot: QtBot, tmp_path: Path) -> None:
    assert page._session.project.layout == ""
    with qtbot.waitSignal(page._session.problem, timeout=30_000):
        page.writer.write_export(What.LAYOUT, tmp_path / "layout.svg", page.previewer.given())
    assert list(tmp_path.iterdir()) == []


# -- the documents themselves ------------------------------------------------------------------


def test_the_report_is_written_from_what_its_pages_were_set_from(
    lesson_session: Session, qtbot: QtBot
) -> None:
    session = lesson_session
    qtbot.waitUntil(lambda: session.fresh, timeout=60_000)
    told: list[str] = []

    def watch(_part: float, what: str) -> None:
        told.append(what)

    given = Given(project=session.project, results=session.results)
    made = preview(Wanted(), given, watch)
    assert len(made.pages) > 5
    assert {page.document for page in made.pages} == {"Calculation report"}
    assert all(page.png.startswith(b"\x89PNG") for page in made.pages)
    assert "Sections" in told
    told.clear()
    [data] = documents(Wanted(), given, made, watch).values()
    assert data.startswith(b"%PDF")
    assert "Sections" not in told


def test_every_shop_sheet_has_its_pages() -> None:
    given = Given(project=load(folder("sample_projects") / "first_hat_lesson.json"))
    made = preview(Wanted(kind=Kind.SHOP), given, lambda _part, _what: None)
    titles = list(dict.fromkeys(page.document for page in made.pages))
    assert len(titles) == 7
    assert titles[0] == "Laminates"
    assert "Bond map" in titles


def test_a_comparison_takes_layouts_and_the_parent_boat() -> None:
    path = folder("sample_projects") / "tidewrack_layout.json"
    chosen, problems = chosen_for(Given(project=load(path), path=path))
    assert [one.parent for one in chosen] == [False, False, True]
    assert problems == ()


def test_a_boat_with_nothing_beside_it_says_so() -> None:
    with pytest.raises(StringerlabError) as refused:
        preview(Wanted(kind=Kind.COMPARISON), Given(project=load(SAMPLE)), lambda _part, _what: None)
    assert "nothing to set side by side" in str(refused.value)


def test_paper_goes_through_the_file(tmp_path: Path) -> None:
    project = with_revision(with_paper(load(SAMPLE), number="EG-72", size=PageSize.LETTER))
    file = tmp_path / "boat.json"
    file.write_bytes(dumps(project))
    assert load(file).paper == project.paper


# -- in the window -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("action", "title"),
    [("write_report", "Write the report"), ("write_sheets", "Write the shop sheets into a folder")],
)
def test_the_file_menu_goes_to_the_page_and_asks(
    window: Window, qtbot: QtBot, action: str, title: str
) -> None:
    window.menus.actions[action].trigger()
    assert window.page_id == "paper"
    page = window.stack.made["paper"]
    assert isinstance(page, PaperPage)
    dialog = dialog_of(page)
    assert dialog.windowTitle() == title
    dialog.reject()
    page.stop()
    settled(page, qtbot)


def test_a_low_window_leaves_icons_out_so_that_no_name_is_cut(window: Window, qtbot: QtBot) -> None:
    rail = window.rail
    for height in (800, 620, 800):
        window.resize(1280, height)
        qtbot.waitUntil(lambda h=height: window.height() == h)
        QApplication.processEvents()
        for button in rail.buttons.values():
            assert button.height() >= button.sizeHint().height(), (height, button.page.id)
