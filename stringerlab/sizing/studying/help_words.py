"""What a step in one number does to a finding: ranked, and in words a designer reads. kg."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import isnan

from stringerlab.methods import Finding, FindingKind, utilisation_text
from stringerlab.project import Project
from stringerlab.project.wish_words import amount_words, value_words
from stringerlab.project.wishes import Change, Number
from stringerlab.sizing.changing.choices import NumberVariable
from stringerlab.sizing.plain import governing_words
from stringerlab.sizing.records import Helped, Step
from stringerlab.units import Kind, System, format

_SAME_USE = 1e-9
"""A change of utilisation less than which is the rounding of a computation."""
_SAME_MASS = 1e-6
"""[kg]."""
_OF_BOAT = frozenset({Change.SPEED, Change.MASS})
"""No change of the structure: said last."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stepped:
    """One step in one number, and the boat that it makes."""

    name: str
    variable: str
    before: str
    after: str
    phrase: str
    """What is done: ``One more layer of wr600 in Main stringer``."""
    of_boat: bool
    """Whether it changes no structure: her speed, her displacement."""
    by_hand: bool
    """Whether it changes a spacing or length that is given by hand."""
    boat: Project


@dataclass(frozen=True, slots=True, kw_only=True)
class After:
    """What a step came to, for one finding."""

    step: Stepped
    use: float
    mass_change: float
    worst: float
    worst_words: str
    spoils: str
    """The highest used of what is short after it and was not before, in words; empty without any."""
    spoiled: float = float("nan")
    """Its utilisation."""


def stepped(
    project: Project,
    number: Number,
    variable: NumberVariable,
    choice: int,
    boat: Project,
    mats: Sequence[str] = (),
) -> Stepped:
    """Return a step: a number taken from what it is to a choice of its variable, with mats laid between."""
    between = f", with {' and '.join(mats)} between" if mats else ""
    before = value_words(number.change, variable.present, project.units)
    after = variable.words(choice, project)
    return Stepped(
        name=f"{variable.name} {_shared_unit(before, after)} → {after}{between}",
        variable=variable.name,
        before=before,
        after=after,
        phrase=_phrase(number, variable, variable.values[choice] - variable.present, project.units)
        + f"{between}," * bool(mats),
        of_boat=number.change in _OF_BOAT,
        by_hand=number.change in {Change.SPACING, Change.LENGTH},
        boat=boat,
    )


def helped(finding: Finding, afters: Iterable[After], system: System) -> Helped:
    """Return one finding with the steps that change it, the one that takes most off it first.

    Parameters
    ----------
    finding
        As the boat is.
    afters
        What every step that can be built came to.
    system
        Units of the words.
    """
    use = finding.utilisation or 0.0
    changing = sorted(
        (one for one in afters if not isnan(one.use) and abs(one.use - use) > _SAME_USE * max(use, 1.0)),
        key=lambda one: (one.use, one.mass_change, one.step.name),
    )
    steps = [(one, _step(finding, one, system)) for one in changing]
    return Helped(
        subject=finding.subject,
        name=finding.name,
        aspect=finding.aspect,
        kind=finding.kind,
        use=use,
        steps=tuple(step for _, step in steps),
        words=_words(finding, steps),
    )


def name_of(finding: Finding) -> str:
    """Return what a finding is of, in words, with where it comes from if that is no rule."""
    match finding.kind:
        case FindingKind.RULE:
            return f"{finding.aspect} of {finding.name}"
        case FindingKind.MECHANICS:
            return f"{finding.aspect} of {finding.name} (mechanics)"
        case FindingKind.GRID:
            return f"{finding.aspect} of {finding.name} (grid)"


def nothing_tight(finding: Finding) -> str:
    """Return that nothing is short or tight, and what is followed instead."""
    return f"Nothing is short or tight; what is highest used is followed: {governing_words(finding)}."


def _step(finding: Finding, after: After, system: System) -> Step:
    use = finding.utilisation or 0.0
    return Step(
        name=after.step.name,
        variable=after.step.variable,
        before=after.step.before,
        after=after.step.after,
        use=after.use,
        use_change=after.use - use,
        mass_change=after.mass_change,
        worst_after=after.worst,
        spoils=after.spoils,
        words=_sentence(finding, after, system),
    )


def _sentence(finding: Finding, after: After, system: System) -> str:
    before, then = utilisation_text(finding.utilisation), utilisation_text(after.use)
    said = f"{after.step.phrase} takes {name_of(finding)} from {before} to {then}{_weight(after, system)}"
    if after.spoils and after.spoils != name_of(finding):
        return f"{said}, but makes short {after.spoils}: {utilisation_text(after.spoiled)}."
    if after.worst_words == name_of(finding) or isnan(after.worst):
        return f"{said}."
    return f"{said}; highest is then {after.worst_words}, {utilisation_text(after.worst)}."


def _weight(after: After, system: System) -> str:
    if after.step.of_boat or isnan(after.mass_change):
        return ""
    if abs(after.mass_change) < _SAME_MASS:
        return " at the same mass"
    much = format(abs(after.mass_change), Kind.MASS, system, digits=2)
    of = " in that part alone" if after.step.by_hand else ""
    return f" for {much} more{of}" if after.mass_change > 0 else f" and saves {much}{of}"


def _words(finding: Finding, steps: Sequence[tuple[After, Step]]) -> str:
    """Return the best of the structure's steps, the best for its mass, and the best of the boat's.

    A spacing or length given by hand has mass in members that are not counted, so it is not the best for it.
    """
    use = finding.utilisation or 0.0
    relieving = [(one, step) for one, step in steps if step.use < use]
    of_structure = [each for each in relieving if not each[0].step.of_boat]
    sound = [each for each in of_structure if not each[1].spoils] or of_structure
    said: list[str] = []
    if sound:
        of, best = sound[0]
        said.append(best.words)
        weighed = [step for one, step in sound if not one.step.by_hand]
        leanest = max(weighed, key=lambda step: step.per_kilogram, default=best)
        if leanest is not best and (of.step.by_hand or leanest.per_kilogram > best.per_kilogram):
            said.append(f"Most for its mass: {_begun(leanest.words)}")
    else:
        held = f"{name_of(finding)}, at {utilisation_text(use)}"
        said.append(f"No single step in the structure takes anything off {held}.")
    said += [step.words for one, step in relieving if one.step.of_boat][:1]
    return " ".join(said)


def _begun(words: str) -> str:
    """Return a sentence as it goes on after a colon."""
    return words[0].lower() + words[1:]


def _phrase(number: Number, variable: NumberVariable, change: float, system: System) -> str:
    """Return what a step does: ``10 mm more hat height of Main stringer``."""
    much, of = amount_words(number.change, abs(change), system), f"of {variable.name.partition(' of ')[2]}"
    match number.change:
        case Change.REPEATS if abs(change) == 1:
            return f"One more layer {of}" if change > 0 else f"One layer less {of}"
        case Change.REPEATS:
            return f"{much} layers {'more' if change > 0 else 'less'} {of}"
        case Change.TRANSVERSES:
            which = variable.name.rpartition(", ")[2]
            one = "One" if abs(change) == 1 else much
            return f"{one} {'more' if change > 0 else 'fewer'} among the transverses {which}"
        case _:
            return f"{much} {'more' if change > 0 else 'less'} {variable.name}"


def _shared_unit(before: str, after: str) -> str:
    """Return words without their unit where what follows has the same."""
    number, _, unit = before.rpartition(" ")
    return number if number and after.endswith(f" {unit}") else before
