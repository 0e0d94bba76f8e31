"""What is wrong with a wish that something may change. mm, kn, kg as typed."""

from collections.abc import Iterable, Iterator
from difflib import get_close_matches
from math import isfinite

from stringerlab.errors import Problem, StringerlabError
from stringerlab.laminate.records import Ply
from stringerlab.layout.plan import Hand, Member, MemberKind
from stringerlab.materials.records import Core, GelCoat, Reinforcement
from stringerlab.project.drafting_shapes import hats
from stringerlab.project.problems import book_of
from stringerlab.project.records import Project
from stringerlab.project.wish_words import COUNTED, amount_words, value_words
from stringerlab.project.wishes import Change, Number, Plies
from stringerlab.sizing.changing.choices import HAT_FIELDS, laid
from stringerlab.sizing.changing.transverses import in_order, middle

MOST_VALUES = 1_000_000
"""Steps that a number may have."""
MOST_TRANSVERSES = 200
MOST_LAYERS = 40
_OF_SECTION = (*HAT_FIELDS, Change.BEAD)
_OF_BOAT = (Change.SPEED, Change.MASS)


def values_of(number: Number) -> tuple[float, ...]:
    """Return the values of a number from least to most, as typed."""
    if number.step <= 0:
        return tuple(dict.fromkeys((number.least, number.most)))
    steps = int((number.most - number.least) / number.step + 1e-9)
    return tuple(round(number.least + each * number.step, 9) + 0.0 for each in range(steps + 1))


def _members(project: Project) -> Iterator[Member]:
    yield from (member for layout in project.layouts for member in layout.members)


# -- numbers -------------------------------------------------------------------------------------


def number_faults(project: Project, number: Number) -> Iterator[Problem]:
    """Yield everything wrong with a number, by its own words and by what it belongs to."""
    where = f"what may change, '{number.id}'"
    yield from _value_faults(project, number, where)
    if number.change in _OF_BOAT:
        if number.of:
            yield Problem(f"The {number.change} is the boat's.", where, "Let it belong to nothing else.")
        return
    if not number.of:
        yield Problem(f"It does not say whose {number.change} may change.", where, "Name one or more.")
        return
    for one in sorted({one for one in number.of if number.of.count(one) > 1}):
        yield Problem(f"It names '{one}' twice.", where, "Name each once.")
    if number.change in _OF_SECTION:
        yield from _section_faults(project, number, where)
    elif number.change is Change.REPEATS:
        yield from _laminate_faults(project, number, where)
    elif number.change in (Change.PLACE, Change.TRANSVERSES):
        yield from _member_faults(project, number, where)
    else:
        yield from _subject_faults(project, number, where)


def _value_faults(project: Project, number: Number, where: str) -> Iterator[Problem]:
    def words(value: float) -> str:
        return amount_words(number.change, value, project.units)

    if not all(isfinite(one) for one in (number.least, number.most, number.step)):
        yield Problem("Its least, most or step is no number.", where, "Give numbers.")
        return
    if number.least > number.most:
        ends = [words(one) for one in (number.least, number.most)]
        if ends[0] == ends[1]:
            ends = [value_words(number.change, one, project.units) for one in (number.least, number.most)]
        what = f"Its least, {ends[0]}, is more than its most, {ends[1]}."
        yield Problem(what, where, "Exchange them.")
    if number.step < 0:
        yield Problem(f"Its step of {words(number.step)} leads backwards.", where, "Give a step above 0.")
    elif number.step and (number.most - number.least) / number.step >= MOST_VALUES:
        what = f"It has more than {MOST_VALUES} steps."
        yield Problem(what, where, "Take larger steps.")
    if number.change in COUNTED:
        wrong = [one for one in (number.least, number.most, number.step) if one != round(one)]
        if wrong:
            what = f"The {number.change} counts in whole numbers, {words(wrong[0])} is none."
            yield Problem(what, where, "Give whole numbers.")
        low, high = (2, MOST_TRANSVERSES) if number.change is Change.TRANSVERSES else (0, MOST_LAYERS)
    else:
        low, high = 0.0, float("inf")
    if number.least < low:
        why = " The first and the last stay." if number.change is Change.TRANSVERSES else ""
        yield Problem(f"Its least, {words(number.least)}, is below {words(low)}.{why}", where, "Give more.")
    if number.most > high:
        yield Problem(f"Its most, {words(number.most)}, is above {words(high)}.", where, "Give less.")


def _section_faults(project: Project, number: Number, where: str) -> Iterator[Problem]:
    held = {section.id: section for section in project.sections}
    for one in number.of:
        section = held.get(one)
        if section is None:
            yield _unknown("section", one, held, where)
            continue
        found = len(hats(project, section))
        if not found:
            what = f"'{section.name}' is not drawn as a hat, so it has no {number.change} to change."
            yield Problem(what, where, "Name a section that is drawn as a hat.")
        elif found > 1:
            what = f"'{section.name}' has {found} hats; which one is not said."
            yield Problem(what, where, "Name a section with one hat.")


def _laminate_faults(project: Project, number: Number, where: str) -> Iterator[Problem]:
    held = {laminate.id: laminate for laminate in project.laminates}
    for one in number.of:
        laminate = held.get(one)
        if laminate is None:
            yield _unknown("laminate", one, held, where)
        elif not 1 <= number.ply <= len(laminate.plies):
            what = f"There is no ply {number.ply} in '{laminate.name}'."
            yield Problem(what, where, f"It has {len(laminate.plies)}.")


def _member_faults(project: Project, number: Number, where: str) -> Iterator[Problem]:
    held = {member.id: member for member in _members(project)}
    wanted = MemberKind.LONGITUDINAL if number.change is Change.PLACE else MemberKind.TRANSVERSE
    in_use = {
        member.id for layout in project.layouts if layout.id == project.layout for member in layout.members
    }
    sound = True
    for one in number.of:
        member = held.get(one)
        if member is None:
            yield _unknown("member", one, held, where)
            sound = False
            continue
        if member.kind is not wanted:
            yield Problem(f"'{member.name}' is no {wanted}, but a {member.kind}.", where, f"Name a {wanted}.")
            sound = False
        if member.id not in in_use:
            what = f"'{member.name}' ({one}) stands in a layout that is not in use, so it is not judged."
            yield Problem(what, where, "Put its layout in use, or name a member of the one that is.")
            sound = False
        if number.change is Change.PLACE and (
            member.hand is Hand.CENTRELINE or all(y == 0 for _, y in member.points)
        ):
            yield Problem(f"'{member.name}' stands on the centreline.", where, "Name one beside it.")
    if number.change is not Change.TRANSVERSES or not sound:
        return
    if len(set(number.of)) < 2:
        yield Problem("It names a single transverse.", where, "Name the first and the last, too.")
        return
    ordered = in_order(project, number.of)
    if middle(ordered[-1]) - middle(ordered[0]) < 1.0:
        yield Problem("Its first and last transverse stand at the same place.", where, "Name others.")
    if len({member.hand for member in ordered}) > 1:
        yield Problem("Its transverses stand on different sides.", where, "Name those of one side.")


def _subject_faults(project: Project, number: Number, where: str) -> Iterator[Problem]:
    held = {one.id: one for one in (*project.panels, *project.spans)}
    found = {mark.id for layout in project.layouts for mark in (*layout.bays, *layout.spans)}
    for one in number.of:
        if one in held:
            continue
        if one in found:
            what = f"'{one}' is found in a layout, so its {number.change} follows from the members."
            yield Problem(what, where, "Let members move instead, or change the number of transverses.")
        else:
            yield _unknown("span or panel", one, held, where)


# -- laminates -----------------------------------------------------------------------------------


def plies_faults(project: Project, plies: Plies) -> Iterator[Problem]:
    """Yield everything wrong with a laminate whose plies may change, but that nothing is allowed."""
    where = f"what may change, '{plies.id}'"
    laminate = next((one for one in project.laminates if one.id == plies.laminate), None)
    if laminate is None:
        yield _unknown("laminate", plies.laminate, [one.id for one in project.laminates], where)
    if plies.least > plies.most:
        yield Problem(
            f"Its least, {plies.least} plies, is more than its most, {plies.most}.", where, "Exchange them."
        )
    if min(plies.least, plies.kept, plies.ended) < 0:
        yield Problem("It counts plies below 0.", where, "Give 0 or more.")
    yield from _menu_faults(project, plies, where)
    if laminate is None:
        return
    if plies.kept + plies.ended > len(laminate.plies):
        what = (
            f"It keeps {plies.kept} plies and {plies.ended} at the end, "
            f"but '{laminate.name}' has {len(laminate.plies)}."
        )
        yield Problem(what, where, "Keep fewer.")
    book = book_of(project)
    for number, ply in enumerate(laminate.plies, start=1):
        if plies.kept < number <= len(laminate.plies) - plies.ended:
            continue
        if book.find(ply.material) is None:
            continue  # said by the laminate itself
        try:
            laid(book, ply)
        except StringerlabError as error:
            yield from (Problem(one.what, f"{where}, ply {number}", one.remedy) for one in error.problems)
    if not plies.least and not any(
        isinstance(book.find(ply.material), Reinforcement)
        for ply in (*laminate.plies[: plies.kept], *laminate.plies[len(laminate.plies) - plies.ended :])
    ):
        what = f"Without plies of the menu nothing reinforced is left of '{laminate.name}'."
        yield Problem(what, where, "Let it have one ply at least.")


def _menu_faults(project: Project, plies: Plies, where: str) -> Iterator[Problem]:
    if not plies.menu:
        yield Problem("Its menu is empty.", where, "Put materials on it.")
    book = book_of(project)
    for one in sorted({one for one in plies.menu if plies.menu.count(one) > 1}):
        yield Problem(f"Its menu has '{one}' twice.", where, "Name each material once.")
    for one in dict.fromkeys(plies.menu):
        material = book.find(one)
        if isinstance(material, Core | GelCoat):
            word = "core" if isinstance(material, Core) else "gel coat"
            what = f"'{material.name}' is a {word}: it is no ply to choose."
            yield Problem(what, where, "Let it be among the plies that stay.")
        elif not isinstance(material, Reinforcement):
            near = get_close_matches(one, book.ids(), n=1)
            remedy = f"Did you mean '{near[0]}'?" if near else "Name a reinforcement of the project or book."
            yield Problem(f"There is no reinforcement '{one}'.", where, remedy)
        else:
            try:
                laid(book, Ply(material=one))
            except StringerlabError as error:
                yield from (Problem(each.what, f"{where}, '{one}'", each.remedy) for each in error.problems)


def _unknown(kind: str, one: str, known: Iterable[str], where: str) -> Problem:
    near = get_close_matches(one, list(known), n=1)
    remedy = f"Did you mean '{near[0]}'?" if near else f"Name a {kind} of the project."
    return Problem(f"There is no {kind} '{one}'.", where, remedy)
