"""One Typst compiler, kept: the first page costs its start, each later one a few milliseconds.

Fonts are those that Typst brings and those under ``resources/fonts``, never the machine's: the same bytes
everywhere. One page at a time; callers on other threads wait.
"""

from collections.abc import Mapping
from functools import lru_cache
from threading import Lock
from typing import Any, Literal, cast

import typst

from stringerlab.data import folder
from stringerlab.errors import Problem, StringerlabError

Format = Literal["svg", "png"]

_one_at_a_time = Lock()


def escaped(text: str) -> str:
    """Return words as Typst code that shows them letter by letter: nothing in them is markup."""
    plain = "".join(sign if sign.isprintable() else " " for sign in text)
    quoted = plain.replace("\\", "\\\\").replace('"', '\\"')
    return f'#"{quoted}"'


def template(name: str) -> str:
    """Return a template of ``resources/typst`` by its name without the ending."""
    return (folder("resources") / "typst" / f"{name}.typ").read_text(encoding="utf-8")


def page_of(
    markup: str,
    inputs: Mapping[str, str],
    *,
    what: str,
    form: Format = "svg",
    ppi: float = 144.0,
) -> bytes:
    """Return one page, set from markup.

    Parameters
    ----------
    markup
        Typst markup of a single page.
    inputs
        What the markup reads as ``sys.inputs``.
    what
        What is being set, for a person, should it fail.
    form
        ``svg``, or ``png`` at ``ppi`` dots an inch.
    ppi
        Dots an inch of a PNG.

    Raises
    ------
    StringerlabError
        When Typst refuses the markup, with its own words.
    """
    try:
        with _one_at_a_time:
            made = _compiler().compile(input=markup.encode(), format=form, ppi=ppi, sys_inputs=dict(inputs))
    except typst.TypstError as error:
        raise StringerlabError(
            Problem(f"It could not be set as a page: {error}.", what, "Read it as text instead.")
        ) from error
    return made if isinstance(made, bytes) else b""


def document_of(
    files: Mapping[str, bytes], *, what: str, form: Literal["pdf", "png"] = "pdf", ppi: float = 96.0
) -> tuple[bytes, ...]:
    """Return a document of many pages: one PDF, or one PNG a page.

    Parameters
    ----------
    files
        All it is made of by name, ``main.typ`` first of all; no other file is read.
    what
        What is being set, for a person, should it fail.
    form
        ``pdf`` or ``png``.
    ppi
        Dots an inch of a PNG.

    Raises
    ------
    StringerlabError
        When Typst refuses the markup, with its own words.
    """
    tags = len(files["main.typ"]) <= _TAGGED
    foreign = any(sign > _OWN_SIGNS for sign in files["main.typ"].decode())
    try:
        with _one_at_a_time:
            made = _compiler(foreign).compile(
                input=cast(Any, dict(files)), format=form, ppi=ppi, pdf_tags=tags
            )
    except typst.TypstError as error:
        raise StringerlabError(
            Problem(f"It could not be set as pages: {error}.", what, "Report it with the project's file.")
        ) from error
    return (made,) if isinstance(made, bytes) else tuple(made or ())


_TAGGED = 150_000
"""Letters of markup up to which a PDF tells its structure to screen readers; a longer one has bookmarks
alone, for the structure would double its time and its bytes."""
_OWN_SIGNS = "\u2fff"
"""Beyond it the program's own fonts have no letters; the machine's are then asked, so that names are read."""


@lru_cache(maxsize=2)
def _compiler(foreign: bool = False) -> typst.Compiler:
    fonts = folder("resources") / "fonts"
    paths = [fonts] if fonts.is_dir() else []
    return typst.Compiler(font_paths=paths, ignore_system_fonts=not foreign)
