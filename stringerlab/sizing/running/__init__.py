"""How runs are run: on one core, several, or a cluster; with progress, cancel, and a journal to resume by."""

from stringerlab.sizing.running.packing import digest_of
from stringerlab.sizing.running.pulse import pulse
from stringerlab.sizing.running.records import Pack, Ran, Running
from stringerlab.sizing.running.runs import run

__all__ = ["Pack", "Ran", "Running", "digest_of", "pulse", "run"]
