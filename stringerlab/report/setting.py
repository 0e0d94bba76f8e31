"""One Typst compiler, kept: the first page costs its start, each later one a few milliseconds.

Fonts are those that Typst brings and those under ``resources/fonts``, never the machine's: the same bytes
everywhere. One page at a time; callers on other threads wait.
"""

from collections.abc import Mapping
from functools import lru_cache
from threading import Lock
from typing import Literal

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


@lru_cache(maxsize=1)
def _compiler() -> typst.Compiler:
    fonts = folder("resources") / "fonts"
    paths = [fonts] if fonts.is_dir() else []
    return typst.Compiler(font_paths=paths, ignore_system_fonts=True)
