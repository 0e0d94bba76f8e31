"""The comparison sheet: layouts or boats side by side on one page, plans and bars above, words below.

Its numbers are those of `compare`; its bars and plans those of the window.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from stringerlab.compare import Compared, Comparison
from stringerlab.compare.sentences import called, titled
from stringerlab.drawing import PRINT, svg
from stringerlab.drawing.comparison import LEGEND, WIDTH, comparison_picture, headed
from stringerlab.drawing.palette import TEXT
from stringerlab.methods import available, method_named
from stringerlab.project import PageSize
from stringerlab.report.markup import quoted
from stringerlab.report.paper import Sheet, Watch, pages_png, pdf, project_hash
from stringerlab.units import System

TITLE = "Comparison sheet"
_PICTURE = "comparison.svg"
_ALL_SAID = 3
"""Of so many all is said in words; of more, only what tells most of each."""
_ACROSS = 3
"""Plans in a row."""
_WIDE = 0.62
"""Mean width of a letter over its height, on the safe side."""
_BESIDE = 6
"""Letters kept for what stands beside names."""
_NAMED = 40
"""Letters of a name within a sentence."""
_LONG = 110
"""Letters of a name that has one line for itself."""
_PAGE = """
#let words(size) = {{
  set text(size: size)
  set par(leading: 0.42em, spacing: 0.62em)
  let headed(title) = text(weight: "semibold", title)
  grid(
    columns: ({share}fr, 1fr),
    column-gutter: 7mm,
    {{ headed("What the numbers say"); for line in {sentences} {{ par(line) }} }},
    {{ headed("What is compared"); for line in {compared} {{ par(line) }} }},
  )
}}
#layout(room => {{
  let drawn(width) = image("pictures/{picture}", width: width, alt: {alt})
  let gap = 3mm
  let tall(size) = measure(block(width: room.width, words(size))).height
  let high = measure(drawn(room.width)).height
  let sizes = (8.4pt, 8pt, 7.6pt, 7.2pt, 6.8pt, 6.4pt)
  let size = sizes.find(size => tall(size) + high + gap <= room.height)
  let size = if size == none {{ sizes.last() }} else {{ size }}
  let left = room.height - tall(size) - gap
  let width = if high <= left {{ room.width }} else {{ room.width * calc.max(left / high, 0.5) }}
  align(center, drawn(width))
  v(gap, weak: true)
  words(size)
}})
"""


def comparison_sheet(
    found: Comparison,
    *,
    system: System = System.METRIC,
    size: PageSize | None = None,
    watch: Watch | None = None,
) -> bytes:
    """Return a comparison as a PDF of one page that lies.

    Parameters
    ----------
    found
        What is side by side; the first one's particulars stand on the page.
    system
        Units of the figures; the words have those that `compare` was asked for.
    size
        Of the sheet; the first one's own by default.
    watch
        Told of progress, and asked to stop.

    Raises
    ------
    StringerlabError
        When the page cannot be set.
    """
    sheet = comparison_page(found, system)
    return pdf(
        sheet.markup,
        sheet.pictures,
        project=found.items[0].chosen.project,
        what=TITLE,
        size=size,
        landscape=True,
        watch=watch,
    )


def comparison_png(
    found: Comparison, *, system: System = System.METRIC, size: PageSize | None = None, ppi: float = 96.0
) -> tuple[bytes, ...]:
    """Return the same page as a picture, for a preview."""
    sheet = comparison_page(found, system)
    project = found.items[0].chosen.project
    return pages_png(
        sheet.markup, sheet.pictures, project=project, what=TITLE, size=size, landscape=True, ppi=ppi
    )


def comparison_page(found: Comparison, system: System) -> Sheet:
    """Return the page's markup and picture."""
    drawn = svg(
        comparison_picture(_headings_cut(found), units=system),
        PRINT,
        title="Layouts and boats side by side",
        legend=LEGEND,
    )
    markup = _PAGE.format(
        picture=_PICTURE,
        share=1.08 if _few(found) else 0.8,
        alt=quoted("Plans and bars of " + ", ".join(called(one) for one in found.items)),
        sentences=_array(_sentences(found)),
        compared=_array(_compared(found)),
    )
    return Sheet(markup=markup, pictures={_PICTURE: drawn.encode("utf-8")})


def _headings_cut(found: Comparison) -> Comparison:
    """Return a comparison whose names have room over their plans: layout and boat half of it each."""
    across = min(len(found.items), _ACROSS)
    letters = int(WIDTH / across / (TEXT * _WIDE)) - _BESIDE

    def cut(one: Compared) -> Compared:
        each = letters if one.name == one.boat else letters // 2
        name, boat = (_cut(text, each) for text in (one.name, one.boat))
        return replace(one, name=name, boat=boat)

    return replace(found, items=tuple(map(cut, found.items)))


def _sentences(found: Comparison) -> Iterator[str]:
    """Yield what is said, of many only what names each."""
    few = _few(found)
    names = tuple(called(one) for one in found.items[1:])
    for sentence in found.sentences:
        if few or sentence.startswith(names):
            for one in found.items:
                sentence = sentence.replace(called(one), f"{one.letter} ({_cut(titled(one), _NAMED)})")
            yield sentence
    if not few:
        yield "More in words and every measure: the command compare, or the window's page Compare."
    if not found.sentences:
        yield "Nothing differs that is known of both."


def _few(found: Comparison) -> bool:
    return len(found.items) <= _ALL_SAID


def _compared(found: Comparison) -> Iterator[str]:
    """Yield what each is, by what it is judged, what it uses most, and what is not known."""
    for one in found.items:
        most = f"; uses most at {_short(one.worst)}" if one.worst and _few(found) else ""
        yield f"{one.letter}  {_short(headed(one))}; file SHA-256 {_hash(one)}{most}."
    yield from _each(found, _judged)
    for said in _each(found, lambda one: _unknown(found, one)):
        yield f"Not known of {said}"
    yield from found.notes
    for one in found.items:
        if one.problems:
            yield f"{one.letter} has {len(one.problems)} faults; what they touch is not counted."


def _each(found: Comparison, say: Callable[[Compared], str]) -> Iterator[str]:
    """Yield what is said of each, once of those of whom it is the same; nothing where it is empty."""
    words: dict[str, list[str]] = {}
    for one in found.items:
        words.setdefault(say(one), []).append(one.letter)
    for said, letters in words.items():
        if said:
            yield f"{', '.join(letters)}: {said}"


def _judged(one: Compared) -> str:
    project = one.chosen.project
    if project.method not in available():
        return f"the method '{_short(project.method)}' is not known."
    method = method_named(project.method)
    return f"judged by {method.name}, edition {method.edition}. {method.superseded}".strip()


def _unknown(found: Comparison, one: Compared) -> str:
    names = [measure.name for measure in found.measures if not one.measured[measure.id].is_known]
    return f"{_some(names)}." if names else ""


def _hash(one: Compared) -> str:
    return project_hash(one.chosen.project)


def _some(names: Sequence[str], first: int = 6) -> str:
    more = f" and {len(names) - first} more" if len(names) > first else ""
    return ", ".join(names[:first]) + more


def _short(text: str) -> str:
    return _cut(text, _LONG)


def _cut(text: str, letters: int) -> str:
    return text if len(text) <= letters else f"{text[: letters - 1].rstrip()}…"


def _array(lines: Iterator[str]) -> str:
    return "(" + "".join(f"{quoted(line)}, " for line in lines) + ")"


__all__ = ["TITLE", "comparison_page", "comparison_png", "comparison_sheet"]
