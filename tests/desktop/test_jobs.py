"""Work off the window's thread: the latest asked for counts, an earlier one is dropped."""

import threading
from collections.abc import Iterator

import pytest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from stringerlab.desktop.first_paint import FirstPaint
from stringerlab.desktop.jobs import Job, Watch
from stringerlab.errors import Problem, StringerlabError


@pytest.fixture
def job() -> Iterator[Job]:
    made = Job()
    yield made
    made.stop()


def test_what_the_work_brings_is_told_in_the_window(job: Job, qtbot: QtBot) -> None:
    with qtbot.waitSignal(job.finished) as told:
        job.start(lambda _watch: threading.current_thread() is threading.main_thread())
    assert told.args == [False]
    assert not job.busy


def test_an_overtaken_piece_of_work_ends_and_brings_nothing(job: Job, qtbot: QtBot) -> None:
    begun, ended = threading.Event(), threading.Event()

    def long(watch: Watch) -> str:
        begun.set()
        try:
            while True:
                watch(0.5, "going on")
        finally:
            ended.set()

    brought: list[object] = []
    job.finished.connect(brought.append)
    job.start(long)
    assert begun.wait(5)
    with qtbot.waitSignal(job.finished):
        job.start(lambda _watch: "second")
    assert ended.is_set()
    assert brought == ["second"]


def test_progress_is_told_while_it_lasts(job: Job, qtbot: QtBot) -> None:
    go_on = threading.Event()

    def work(watch: Watch) -> None:
        watch(0.25, "a quarter")
        go_on.wait(5)

    with qtbot.waitSignal(job.progress) as told:
        job.start(work)
    assert told.args == [0.25, "a quarter"]
    with qtbot.waitSignal(job.finished):
        go_on.set()


def test_a_refusal_is_told_as_such(job: Job, qtbot: QtBot) -> None:
    def work(_watch: Watch) -> None:
        raise StringerlabError(Problem("It cannot be."))

    with qtbot.waitSignal(job.failed) as told:
        job.start(work)
    assert told.args is not None
    assert str(told.args[0]) == "It cannot be."


def test_any_other_exception_is_raised_in_the_window(job: Job, qtbot: QtBot) -> None:
    def work(_watch: Watch) -> None:
        raise ZeroDivisionError("of ours")

    with qtbot.captureExceptions() as caught:
        job.start(work)
        qtbot.waitUntil(lambda: not job.busy)
    assert [kind for kind, _, _ in caught] == [ZeroDivisionError]


def test_cancelled_work_brings_nothing_and_no_thread_is_left(job: Job, qtbot: QtBot) -> None:
    before = threading.active_count()
    brought: list[object] = []
    job.finished.connect(brought.append)
    job.start(lambda _watch: "late")
    job.cancel()
    assert not job.busy
    job.stop()
    qtbot.wait(30)
    assert brought == []
    assert threading.active_count() == before


def test_a_job_whose_owner_is_gone_leaves_no_thread(qtbot: QtBot) -> None:
    before = threading.active_count()
    orphan = Job()
    with qtbot.waitSignal(orphan.finished):
        orphan.start(lambda _watch: 1)
    with qtbot.waitSignal(orphan.destroyed):
        orphan.deleteLater()
    assert threading.active_count() == before


def test_held_work_waits_and_only_the_last_asked_for_is_done(job: Job, qtbot: QtBot) -> None:
    done: list[str] = []
    job.hold()
    for name in ("first", "second"):
        job.start(lambda _watch, name=name: done.append(name))
    qtbot.wait(30)
    assert job.busy
    assert done == []
    with qtbot.waitSignal(job.finished):
        job.let_go()
    assert done == ["second"]


def test_held_work_can_be_cancelled(job: Job, qtbot: QtBot) -> None:
    done: list[str] = []
    job.hold()
    job.start(lambda _watch: done.append("first"))
    job.cancel()
    job.let_go()
    qtbot.wait(30)
    assert done == []
    assert not job.busy


def test_a_first_paint_is_told_of_once(qtbot: QtBot) -> None:
    widget = QWidget()
    qtbot.addWidget(widget)
    painted: list[str] = []
    FirstPaint(widget, lambda: painted.append("painted"))
    qtbot.wait(10)
    assert painted == []
    widget.show()
    qtbot.waitUntil(lambda: bool(painted))
    widget.repaint()
    qtbot.wait(10)
    assert painted == ["painted"]
