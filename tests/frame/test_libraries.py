"""What Linux lacks for a window is named with the package that brings it, before Qt is touched."""

from stringerlab.desktop.libraries import ALWAYS, ON_A_SCREEN, library_problem, screen_problem


def _lacking(*files: str):
    def load(name: str) -> object:
        if name in files:
            raise OSError(f"{name}: cannot open shared object file: No such file or directory")
        return object()

    return load


def test_nothing_missing_is_no_problem() -> None:
    assert library_problem({}, "linux", _lacking()) is None


def test_missing_library_is_named_with_its_debian_package() -> None:
    problem = library_problem({}, "linux", _lacking("libEGL.so.1", "libxcb-cursor.so.0"))
    assert problem is not None
    assert "libEGL.so.1, libxcb-cursor.so.0" in problem.what
    assert "apt install libegl1 libxcb-cursor0." in problem.remedy


def test_package_that_brings_two_is_named_once() -> None:
    problem = library_problem({}, "linux", _lacking("libglib-2.0.so.0", "libgthread-2.0.so.0"))
    assert problem is not None
    assert problem.remedy.count("libglib2.0-0") == 1


def test_screen_libraries_are_asked_for_only_under_x11() -> None:
    lacking = _lacking("libxcb-cursor.so.0")
    assert library_problem({"QT_QPA_PLATFORM": "offscreen"}, "linux", lacking) is None
    assert library_problem({"WAYLAND_DISPLAY": "wayland-0"}, "linux", lacking) is None
    assert library_problem({"QT_QPA_PLATFORM": "xcb"}, "linux", lacking) is not None


def test_other_systems_bring_their_own() -> None:
    everything = _lacking(*(library.file for library in (*ALWAYS, *ON_A_SCREEN)))
    assert library_problem({}, "win32", everything) is None
    assert library_problem({}, "darwin", everything) is None


def test_no_screen_is_said_before_qt_gives_up() -> None:
    assert screen_problem({}, "linux") is not None
    assert screen_problem({"DISPLAY": ":0"}, "linux") is None
    assert screen_problem({"WAYLAND_DISPLAY": "wayland-0"}, "linux") is None
    assert screen_problem({"QT_QPA_PLATFORM": "offscreen"}, "linux") is None
    assert screen_problem({}, "darwin") is None
