"""What a study asks for: its steps, and what is read off each; everything that is wrong with it at once.

Values along a number are as typed: mm, kn, kg, layers.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import prod

from stringerlab.assess.mechanics import TOPICS
from stringerlab.errors import Problem, StringerlabError
from stringerlab.methods import Aspect, Finding, FindingKind
from stringerlab.project import Project
from stringerlab.project.wishes import Number, Reading, Shown, Study
from stringerlab.sizing.changing.choices import NumberVariable
from stringerlab.sizing.changing.variables import variable_of
from stringerlab.sizing.plain import Measured, highest, measured

MOST_STEPS = 4096
"""Of a study: what a person can look at, and minutes of work on the largest boat."""
_AXES = (1, 2)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Asked:
    """A study that can be worked."""

    variables: tuple[NumberVariable, ...]
    present: Measured
    """The boat as she is."""
    mechanics: bool
    """Whether a reading is of the mechanics, so that they are judged at every step."""

    @property
    def shape(self) -> tuple[int, ...]:
        """How many steps there are along each number."""
        return tuple(one.count for one in self.variables)

    @property
    def blocked(self) -> frozenset[str]:
        """Ids of panels and spans that cannot be judged as the boat is."""
        return frozenset(self.present.resolved.blocked)


def asked(project: Project, study: Study) -> Asked:
    """Return what a study asks for.

    Parameters
    ----------
    project, study
        The boat, and one or two numbers to sweep with what is read off.

    Raises
    ------
    StringerlabError
        With everything that is wrong with the study.
    """
    where = place(study)
    problems: list[Problem] = []
    if len(study.along) not in _AXES:
        many = len(study.along)
        problems.append(
            Problem(f"It is along {many} numbers.", where, "Have it along one or two.")
            if many
            else Problem("It is along nothing.", where, "Say which number is swept: one or two.")
        )
    variables: list[NumberVariable] = []
    for number in study.along:
        try:
            variables.append(variable_of(project, number))
        except StringerlabError as error:
            problems += error.problems
    problems += _twice(study, where)
    steps = prod(one.count for one in variables)
    if steps > MOST_STEPS:
        problems.append(
            Problem(
                f"It has {_spaced(steps)} steps; at the most {_spaced(MOST_STEPS)} are worked.",
                where,
                "Take coarser steps, or a narrower range.",
            )
        )
    present = measured(project)
    mechanics = False
    if not study.readings:
        problems.append(
            Problem("Nothing is read off.", where, "Say what is to be read: a utilisation, mass.")
        )
    for number, reading in enumerate(study.readings, start=1):
        wrong = _misread(reading, present, f"{where}, reading {number}")
        if not wrong and reading.shown is Shown.USE and reading_of(reading, present) is None:
            if not mechanics:
                present, mechanics = measured(project, topics=TOPICS, grid=False), True
            if reading_of(reading, present) is None:
                wrong = [_not_judged(reading, present, f"{where}, reading {number}")]
        problems += wrong
    if problems:
        raise StringerlabError(problems)
    return Asked(variables=tuple(variables), present=present, mechanics=mechanics)


def place(study: Study) -> str:
    """Return where a study is, in words."""
    return f"study '{study.name}' ({study.id})"


def reading_of(reading: Reading, found: Measured) -> Finding | None:
    """Return the finding that a reading of a utilisation is of: a rule's, where one is judged; None without.

    Only where the rule judges nothing of it do the mechanics stand in.
    """
    for kind in (FindingKind.RULE, FindingKind.MECHANICS):
        best = found.highest(kind, subject=reading.subject, aspect=reading.aspect)
        if best is not None:
            return best
    return None


def value_of(reading: Reading, found: Measured) -> float:
    """Return what is read off a boat; nan where it is not known."""
    match reading.shown:
        case Shown.MASS:
            return found.mass
        case Shown.COST:
            return found.cost
        case Shown.LABOUR:
            return found.hours
        case Shown.USE:
            one = reading_of(reading, found)
            return float("nan") if one is None or one.utilisation is None else one.utilisation


def reading_name(reading: Reading, found: Measured) -> str:
    """Return what is read off, in words."""
    if reading.shown is not Shown.USE:
        return reading.shown.value
    name = next((one.name for one in found.resolved.subjects if one.id == reading.subject), "")
    if reading.aspect and name:
        return f"utilisation, {reading.aspect} of {name}"
    if name:
        return f"utilisation, highest of {name}"
    return f"utilisation, highest {reading.aspect}" if reading.aspect else "utilisation, highest"


def reading_unit(reading: Reading, project: Project) -> str:
    """Return the unit of what is read off, as a symbol."""
    match reading.shown:
        case Shown.USE:
            return ""
        case Shown.MASS:
            return "kg"
        case Shown.COST:
            return project.rates.currency
        case Shown.LABOUR:
            return "h"


def _twice(study: Study, where: str) -> Iterator[Problem]:
    """Yield what is wrong with two numbers that are the same one."""
    if len(study.along) == max(_AXES) and _same(*study.along):
        yield Problem("Both numbers change the same thing.", where, "Have it along that one alone.")


def _same(first: Number, second: Number) -> bool:
    return (first.change, frozenset(first.of), first.ply) == (
        second.change,
        frozenset(second.of),
        second.ply,
    )


def _misread(reading: Reading, present: Measured, where: str) -> list[Problem]:
    wrong: list[Problem] = []
    ids = {one.id for one in present.resolved.subjects}
    if reading.subject and reading.subject not in ids:
        wrong.append(
            Problem(f"There is no panel or span '{reading.subject}'.", where, "Name one, or none for any.")
        )
    if reading.aspect and reading.aspect not in set(Aspect):
        wrong.append(
            Problem(
                f"Nothing is judged that is called '{reading.aspect}'.",
                where,
                f"Name one of: {', '.join(_judged(present.findings.values()))}.",
            )
        )
    return wrong


def _not_judged(reading: Reading, present: Measured, where: str) -> Problem:
    """Return why a reading reads nothing on the boat as she is."""
    of = [
        one
        for one in present.findings.values()
        if reading.subject in {"", one.subject} and reading.aspect in {"", one.aspect}
    ]
    if of:
        said = "; ".join(dict.fromkeys(note.rstrip(".") for note in of[0].notes)) or "a number is missing"
        return Problem(f"{of[0].aspect} of {of[0].name} is not judged: {said}.", where)
    others = [one for one in present.findings.values() if reading.subject in {"", one.subject}]
    remedy = f"Read one of: {', '.join(_judged(others))}." if highest(others) else "Read something else."
    name = next((one.name for one in others if reading.subject), "")
    return Problem(
        f"Neither method nor mechanics judge {reading.aspect or 'anything'}{f' of {name}' if name else ''}.",
        where,
        remedy,
    )


def _judged(findings: Iterable[Finding]) -> list[str]:
    """Return the aspects that are judged among findings, each once."""
    return list(dict.fromkeys(one.aspect.value for one in findings if one.utilisation is not None))


def _spaced(number: int) -> str:
    return f"{number:,}".replace(",", " ")
