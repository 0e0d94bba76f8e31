"""What every document on paper shares: front block, notice, footer, and the one way from markup to pages.

The same project gives the same bytes: no date but those typed, no fonts but the program's own.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from hashlib import sha256

from stringerlab import __version__
from stringerlab.assess import Results
from stringerlab.files import dumps
from stringerlab.methods import NOTICE, Method, available, method_named
from stringerlab.project import PageSize, Project
from stringerlab.report.markup import callout, particulars, quoted, table
from stringerlab.report.setting import document_of, template

Watch = Callable[[float, str], None]
"""Told the fraction done and what is being done; may raise to stop: nothing is set then."""
SHORT_NOTICE = (
    "A roughing-out aid, not a class or conformity assessment; simplified forms. "
    "A naval architect and the applicable rules decide."
)
HASH_LETTERS = 12
_HEADER = 70
"""Letters of a project's name in the header."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """Markup of a document, or of a part of it, and the pictures it shows by name (SVG or PNG)."""

    markup: str
    pictures: Mapping[str, bytes] = field(default_factory=dict[str, bytes])


def joined(*parts: Sheet) -> Sheet:
    """Return parts one after another; a picture of the same name is the same picture."""
    pictures = {name: data for part in parts for name, data in part.pictures.items()}
    return Sheet(markup="\n\n".join(part.markup for part in parts if part.markup), pictures=pictures)


def project_hash(project: Project) -> str:
    """Return the first letters of the SHA-256 of the project's file: it says which state is on paper."""
    return sha256(dumps(project)).hexdigest()[:HASH_LETTERS]


def pdf(
    markup: str,
    pictures: Mapping[str, bytes],
    *,
    project: Project,
    what: str,
    size: PageSize | None = None,
    landscape: bool = False,
    method: Method | None = None,
    watch: Watch | None = None,
) -> bytes:
    """Return a document as PDF, the same bytes for the same project.

    Parameters
    ----------
    markup
        Its body, in the words of `markup`.
    pictures
        What it shows, by name with ending (``.svg``, ``.png``).
    project
        The project it is of: name, paper particulars, method and hash stand on every page.
    what
        Its title, as in the header.
    size
        Of the sheets; the project's own by default.
    landscape
        Whether the sheets lie.
    method
        That judged what stands on them; the project's own by default.
    watch
        Told of progress, and asked to stop.

    Raises
    ------
    StringerlabError
        When Typst refuses the markup.
    """
    files = _files(markup, pictures, project, what, size, landscape, method)
    tell = watch or _unwatched
    tell(0.0, "Setting the pages")
    [made] = document_of(files, what=what, form="pdf")
    tell(1.0, "Done")
    return made


def pages_png(
    markup: str,
    pictures: Mapping[str, bytes],
    *,
    project: Project,
    what: str,
    size: PageSize | None = None,
    landscape: bool = False,
    method: Method | None = None,
    ppi: float = 96.0,
) -> tuple[bytes, ...]:
    """Return the same document as one PNG a page, for a preview.

    Raises
    ------
    StringerlabError
        When Typst refuses the markup.
    """
    files = _files(markup, pictures, project, what, size, landscape, method)
    return document_of(files, what=what, form="png", ppi=ppi)


def head(project: Project, results: Results | None, title: str) -> str:
    """Return a document's front block: title, particulars as typed, revisions, method, notice.

    Parameters
    ----------
    project
        The project.
    results
        What was judged, whose method is named; the project's own method where None.
    title
        The document's title.
    """
    paper = project.paper
    method = results.method if results is not None else _method(project)
    judged = "—" if method is None else f"{method.name} ({method.edition})"
    superseded = [] if method is None or not method.superseded else [("Edition", method.superseded)]
    rows = [
        ("Craft", project.craft.name),
        ("Document number", paper.number),
        ("Revision", paper.revision),
        ("Date", paper.date),
        ("Client", paper.client),
        ("Author", paper.author),
        ("Reviewing naval architect", paper.reviewer),
        ("Method", judged),
        *superseded,
        ("Program", f"stringerlab {__version__}"),
        ("Project file", f"SHA-256 begins {project_hash(project)}"),
    ]
    changes = table(
        ["Revision", "Date", "By", "Change"],
        [[one.revision, one.date, one.author, one.change] for one in paper.changes],
        ["20mm", "26mm", "34mm", "1fr"],
    )
    front = f"#front({quoted(title)}, {quoted(project.name)})"
    return "\n\n".join([front, particulars(rows), changes, callout("Notice", NOTICE)])


def footer_lines(project: Project, method: Method | None = None) -> tuple[str, ...]:
    """Return what the footer says on every page: the notice in short, edition, and that it is superseded."""
    method = method or _method(project)
    if method is None:
        return (SHORT_NOTICE,)
    edition = f"{method.name}, edition {method.edition}."
    return SHORT_NOTICE, f"{edition} {method.superseded}".strip()


def _method(project: Project) -> Method | None:
    return method_named(project.method) if project.method in available() else None


def _files(
    markup: str,
    pictures: Mapping[str, bytes],
    project: Project,
    what: str,
    size: PageSize | None,
    landscape: bool,
    method: Method | None,
) -> dict[str, bytes]:
    paper = project.paper
    mark = f"stringerlab {__version__}, project {project_hash(project)}"
    footer = ", ".join(map(quoted, footer_lines(project, method)))
    opening = (
        f"#show: paper.with(title: {quoted(what)}, project: {quoted(_short(project.name))}, "
        f"number: {quoted(paper.number)}, revision: {quoted(paper.revision)}, "
        f"size: {quoted((size or paper.size).value.lower())}, landscape: {str(landscape).lower()}, "
        f"footer: ({footer},), mark: {quoted(mark)})"
    )
    body = f'#import "paper.typ": *\n{opening}\n\n{markup}\n'
    return {
        "main.typ": body.encode(),
        "paper.typ": template("paper").encode(),
        **{f"pictures/{name}": data for name, data in pictures.items()},
    }


def _short(name: str) -> str:
    return name if len(name) <= _HEADER else f"{name[: _HEADER - 1].rstrip()}…"


def _unwatched(fraction: float, what: str) -> None:
    del fraction, what
