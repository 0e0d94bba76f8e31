"""What the machine refuses (disk, folder, rights), said to a person."""

import errno
import os
from pathlib import Path

from stringerlab.errors import Problem, StringerlabError

_RIGHTS = (errno.EACCES, errno.EPERM, errno.EROFS)
_FULL = (errno.ENOSPC, errno.EDQUOT)


def trouble(error: OSError, act: str, path: Path) -> StringerlabError:
    """Return the message for what the system refused.

    Parameters
    ----------
    error
        The system's own.
    act
        What could not be done, after "cannot": "be saved".
    path
        The project's file.
    """
    writing = act != "be read"
    if error.errno in _FULL:
        what, remedy = (
            "the disk is full",
            "Free some space and save again; what was saved before is unharmed.",
        )
    elif error.errno in _RIGHTS:
        what = f"the folder '{path.parent}' may not be written" if writing else "you have no right to read it"
        remedy = "Save to another folder, or change its rights." if writing else "Change its rights."
    elif error.errno in (errno.ENOENT, errno.ENOTDIR):
        what = f"there is no folder '{path.parent}'" if writing else "there is no such file"
        remedy = "Make the folder, or choose another." if writing else "Check the name and the folder."
    elif error.errno == errno.EISDIR:
        what, remedy = "it is a folder", "Give the name of a file."
    elif error.errno == errno.ENAMETOOLONG:
        what, remedy = "its name is too long", "Choose a shorter one."
    else:
        said = os.strerror(error.errno) if error.errno else str(error)
        what, remedy = f"the system says '{said}'", "What was saved before is unharmed; try another folder."
    return StringerlabError(Problem(f"Cannot {act}: {what}.", str(path), remedy))
