"""Methods may be asked for from several threads at once, as a window and its worker do."""

import subprocess
import sys

_AT_ONCE = """
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier
from stringerlab.methods import available, method_named

ids = available() * 3
together = Barrier(len(ids))

def load(id):
    together.wait()
    return method_named(id).id

with ThreadPoolExecutor(len(ids)) as threads:
    print(list(threads.map(load, ids)) == list(ids))
"""


def test_every_method_can_be_loaded_from_several_threads_at_once() -> None:
    for _ in range(3):
        done = subprocess.run(
            [sys.executable, "-c", _AT_ONCE], capture_output=True, text=True, check=False, timeout=60
        )
        assert done.stdout.strip() == "True", done.stderr
