"""The core and the command line where no Qt is installed."""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
BLOCK = """
import sys
class NoQt:
    def find_spec(self, name, path=None, target=None):
        if name.split(".")[0] in ("PySide6", "shiboken6"):
            raise ModuleNotFoundError(f"No module named {name!r}", name=name)
sys.meta_path.insert(0, NoQt())
"""


def _run(code: str, *arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", BLOCK + code, *arguments],
        capture_output=True,
        text=True,
        cwd=ROOT,
        check=False,
    )


def test_block_holds() -> None:
    done = _run("import PySide6.QtCore")
    assert "ModuleNotFoundError" in done.stderr


def test_check_runs() -> None:
    code = (
        "sys.argv = ['stringerlab', *sys.argv[1:]]; from stringerlab.__main__ import main; sys.exit(main())"
    )
    sample = str(ROOT / "sample_projects" / "eelgrass_workboat.json")
    done = _run(code, "check", sample, "--no-mechanics", "--allow-not-judged", "bond")
    assert done.returncode == 0, done.stderr
    assert "ISO 12215-5:2008" in done.stdout


def test_window_says_what_to_install() -> None:
    code = "sys.argv = ['stringerlab']; from stringerlab.__main__ import main; sys.exit(main())"
    done = _run("import os; os.environ['QT_QPA_PLATFORM'] = 'offscreen'\n" + code)
    assert done.returncode == 2
    assert "pip install PySide6-Essentials" in done.stderr
    assert "Traceback" not in done.stderr


def test_every_room_below_the_window_imports() -> None:
    code = """
import importlib, pkgutil, stringerlab
found = pkgutil.walk_packages(stringerlab.__path__, "stringerlab.", onerror=lambda name: None)
names = [m.name for m in found if ".desktop" not in m.name and not m.name.endswith("__main__")]
for name in names:
    importlib.import_module(name)
print(len(names), "PySide6" in sys.modules)
"""
    done = _run(code)
    assert done.returncode == 0, done.stderr
    count, loaded = done.stdout.split()
    assert int(count) > 80
    assert loaded == "False"


def test_core_tests_pass() -> None:
    code = """
import pytest
sys.exit(pytest.main(["-q", "-p", "no:pytest-qt", "-p", "no:cacheprovider", "-c", "/dev/null",
    "--rootdir", ".", "--import-mode=importlib", *sys.argv[1:]]))
"""
    done = _run(
        code, "tests/units", "tests/laminate", "tests/files/test_samples.py", "tests/project/test_edits.py"
    )
    assert done.returncode == 0, done.stdout
    assert " passed" in done.stdout


def test_command_line_loads_no_qt() -> None:
    done = subprocess.run(
        [
            sys.executable,
            "-X",
            "importtime",
            "-m",
            "stringerlab",
            "check",
            "sample_projects/first_hat_lesson.json",
        ],
        capture_output=True,
        text=True,
        cwd=ROOT,
        check=False,
    )
    assert "stringerlab.assess" in done.stderr
    assert "PySide6" not in done.stderr
