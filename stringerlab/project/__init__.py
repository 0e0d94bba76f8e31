"""The whole document: records by id, edits, history, everything wrong in meaning, ids swapped."""

from stringerlab.project.history import History, Snapshot
from stringerlab.project.paper import PageSize, Paper, Revision
from stringerlab.project.problems import book_of
from stringerlab.project.records import Likeness, Parent, Project
from stringerlab.project.resolving import Resolved, problems, resolve

__all__ = [
    "History",
    "Likeness",
    "PageSize",
    "Paper",
    "Parent",
    "Project",
    "Resolved",
    "Revision",
    "Snapshot",
    "book_of",
    "problems",
    "resolve",
]
