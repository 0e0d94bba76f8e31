"""What is said of layouts and boats side by side, made from their numbers: never a claim of compliance."""

from collections import defaultdict
from collections.abc import Iterator, Sequence

from stringerlab.compare.common_load import load_words
from stringerlab.compare.records import Compared, Measure
from stringerlab.compare.shown import shown
from stringerlab.compare.uses import said
from stringerlab.methods import FindingKind, utilisation_text
from stringerlab.units import System

SAME = 0.005
"""Two values nearer than this part of the first are said to be the same."""
PER_CENT_TO = 2.0
"""What is more than so many times as much is said in times, not in per cent."""
_NEAR = 1.0
"""Places nearer than this are one [mm]."""


def sentences(
    items: Sequence[Compared], measures: Sequence[Measure], system: System = System.METRIC
) -> tuple[str, ...]:
    """Return what the numbers say of every one against the first.

    Parameters
    ----------
    items
        Measured; the first is what the others are held against.
    measures
        Everything measured of them.
    system
        Units of the words.
    """
    by_id = {one.id: one for one in measures}
    found: list[str] = []
    for other in items[1:]:
        pair = _Pair(items[0], other, by_id, system)
        found += pair.said()
    return tuple(found)


class _Pair:
    """One held against the first."""

    def __init__(self, first: Compared, other: Compared, by_id: dict[str, Measure], system: System) -> None:
        self.first, self.other, self.by_id, self.system = first, other, by_id, system

    def said(self) -> Iterator[str]:
        """Yield the sentences."""
        who, whom = called(self.other), called(self.first)
        clauses = [*self._heavier(whom), *self._stiffer()]
        if clauses:
            yield f"{who} is {_joined(clauses)}."
        yield from self._hull()
        yield from self._centre()
        for kind in FindingKind:
            yield from self._used(kind)
        yield from self._bonded()
        yield from self._worked()
        yield from self._roomy()

    def _both(self, key: str) -> tuple[float, float] | None:
        one, two = self.first.value(key), self.other.value(key)
        return None if one is None or two is None else (one, two)

    def _text(self, key: str, value: float) -> str:
        measured = self.other.measured[key]
        return shown(self.by_id[key], value, self.system, currency=measured.unit)

    def _more(self, key: str, more: str, less: str, same: str) -> str | None:
        """Return ``41 kg (18 %) heavier``, or how they are the same; None where either is not known."""
        both = self._both(key)
        if both is None or not self._comparable(key):
            return None
        one, two = both
        if alike(one, two):
            return same
        amount = self._text(key, abs(two - one))
        return f"{amount}{_part(one, two)} {more if two > one else less}"

    def _comparable(self, key: str) -> bool:
        return self.first.measured[key].unit == self.other.measured[key].unit

    def _heavier(self, whom: str) -> Iterator[str]:
        words = self._more("part", f"heavier than {whom}", f"lighter than {whom}", f"as heavy as {whom}")
        if words is not None:
            yield words

    def _stiffer(self) -> Iterator[str]:
        both = self._both("deflection")
        if both is None:
            return
        one, two = both
        texts = f"greatest deflection {self._text('deflection', two)} against {self._text('deflection', one)}"
        if alike(one, two):
            yield f"as stiff under {load_words(self.system)} ({texts})"
        elif two > 0:
            yield f"{_times(one / two)} as stiff under {load_words(self.system)} ({texts})"

    def _hull(self) -> Iterator[str]:
        words = self._more("hull", "more", "less", "")
        if words:
            yield f"The plating of its bottom weighs {words}."

    def _centre(self) -> Iterator[str]:
        clauses: list[str] = []
        for key, more, less in (("x", "further forward", "further aft"), ("z", "higher", "lower")):
            both = self._both(key)
            if both is not None and abs(both[1] - both[0]) >= _NEAR:
                far = self._text(key, abs(both[1] - both[0]))
                clauses.append(f"{far} {more if both[1] > both[0] else less}")
        if clauses:
            yield f"The centre of gravity of its members lies {_joined(clauses)}."
        elif self._both("x") is not None:
            yield "The centre of gravity of its members lies at the same place" + (
                "." if self._both("z") is not None else " along the boat."
            )

    def _used(self, kind: FindingKind) -> Iterator[str]:
        name = kind.name.lower()
        worst, mean = self._both(f"worst:{name}"), self._both(f"mean:{name}")
        if worst is None or mean is None:
            return
        clauses = [
            f"the {word} utilisation is {utilisation_text(two)} for both"
            if utilisation_text(one) == utilisation_text(two)
            else f"the {word} utilisation is {utilisation_text(two)} against {utilisation_text(one)}"
            for word, (one, two) in (("worst", worst), ("mean", mean))
        ]
        short = self._both(f"short:{name}")
        if short is not None and max(short) > 0:
            are = "1 panel or span is" if short[1] == 1 else f"{short[1]:.0f} panels and spans are"
            clauses.append(f"{are} short against {short[0]:.0f}")
        yield f"Judged {said(kind)}, {_joined(clauses)}."

    def _bonded(self) -> Iterator[str]:
        clauses = [
            words
            for key, more, less, same in (
                ("bonded", "more bonded area on the bottom", "less bonded area on the bottom", ""),
                ("perimeter", "more contact in all", "less contact in all", ""),
                ("adhesive", "more adhesive", "less adhesive", ""),
            )
            if (words := self._more(key, more, less, same))
        ]
        if clauses:
            yield f"It has {_joined(clauses)}."
        elif self._both("bonded") is not None:
            yield "There is no difference in bonded area, contact and adhesive."

    def _worked(self) -> Iterator[str]:
        clauses = [
            words
            for words in (
                self._more("hours", "more labour", "less labour", "the same labour"),
                self._more("cost", "more in cost", "less in cost", "the same cost"),
            )
            if words is not None
        ]
        if clauses:
            left = {note for one in (self.first, self.other) for note in one.measured["cost"].notes}
            yield f"It takes {_joined(clauses)}{', as far as there are prices and rates' if left else ''}."

    def _roomy(self) -> Iterator[str]:
        words = self._more("room", "more room", "less room", "as much room")
        if words is not None:
            yield f"Its cavities hold {words}."


def called(one: Compared) -> str:
    """Return how one of them is called in a sentence: its letter, and its name."""
    return f"{one.letter} ({titled(one)})"


def titled(one: Compared) -> str:
    """Return the name of one of them, said to be a parent boat where that is not in it."""
    return one.name + (", parent boat" if one.chosen.parent and "parent boat" not in one.name else "")


def alike(one: float, two: float) -> bool:
    """Return whether two values are the same, as far as rounding goes."""
    return abs(two - one) <= SAME * max(abs(one), abs(two))


def _part(one: float, two: float) -> str:
    if not one > 0:
        return ""
    if two / one > PER_CENT_TO:
        return f" ({two / one:.1f} times as much)"
    return f" ({100 * abs(two - one) / one:.0f} %)"


def _times(ratio: float) -> str:
    return f"{ratio:.1f} times" if ratio >= 1.95 else f"{ratio:.2f} times"


def _joined(clauses: Sequence[str]) -> str:
    if len(clauses) < 2:
        return "".join(clauses)
    return f"{', '.join(clauses[:-1])} and {clauses[-1]}"


def not_known(items: Sequence[Compared], measures: Sequence[Measure]) -> Iterator[str]:
    """Yield what of each is not known, and why, measures with one reason together."""
    for one in items:
        reasons: dict[str, list[str]] = defaultdict(list)
        for measure in measures:
            found = one.measured.get(measure.id)
            if found is not None and found.value is None:
                reasons[found.why].append(measure.name)
        for why, names in reasons.items():
            yield f"Not known of {called(one)}: {'; '.join(names)}. Why: {why.rstrip('.')}."


__all__ = ["SAME", "alike", "called", "not_known", "sentences", "titled"]
