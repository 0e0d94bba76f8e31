"""Errors a person can read: what is wrong, where in the project, what to do about it."""

from collections.abc import Iterable
from dataclasses import dataclass

FIRST_SHOWN = 50


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong, for a person: what, where (a path in the project or a file), and what to do."""

    what: str
    where: str = ""
    remedy: str = ""

    def __str__(self) -> str:
        where = f"{self.where}: " if self.where else ""
        remedy = f" {self.remedy}" if self.remedy else ""
        return f"{where}{self.what}{remedy}"


class StringerlabError(Exception):
    """Raised with every problem found, never only the first."""

    def __init__(self, problems: Problem | Iterable[Problem]) -> None:
        self.problems: tuple[Problem, ...] = (problems,) if isinstance(problems, Problem) else tuple(problems)
        if not self.problems:
            raise ValueError("an error needs a problem to report")
        super().__init__("\n".join(shown(self.problems)))

    def __reduce__(self) -> tuple[type["StringerlabError"], tuple[tuple[Problem, ...]]]:
        return type(self), (self.problems,)


def shown(problems: Iterable[Problem], first: int = FIRST_SHOWN) -> list[str]:
    """Lines to print: the first problems whole, the rest counted."""
    listed = list(problems)
    lines = [str(problem) for problem in listed[:first]]
    if len(listed) > first:
        lines.append(f"… and {len(listed) - first} more of {len(listed)}.")
    return lines
