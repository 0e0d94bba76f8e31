"""Which of the methods' constants no published value guards.

Each number in the methods' source is made 1 % greater, in place, and the published values are computed
anew; a number is covered when one of them then misses.
"""

import ast
import contextlib
import importlib
import inspect
import pkgutil
import sys
from collections.abc import Callable, Generator, Iterator
from contextlib import contextmanager
from copy import copy
from dataclasses import dataclass
from types import FunctionType, ModuleType
from typing import Any

from stringerlab import methods
from stringerlab.assess.proof import COMPUTATIONS, Published, proof_of, published
from stringerlab.workings import Formula

STEP = 0.01


@dataclass(frozen=True, slots=True, kw_only=True)
class Constant:
    """A number in the methods' source: its module, line, the function or name it stands in, its value."""

    module: str
    line: int
    place: str
    value: float


def uncovered() -> tuple[Constant, ...]:
    """Return the constants that no published value catches when they are 1 % off."""
    values = [value for value in of_methods() if _met(value)]
    return tuple(constant for constant, changed in constants() if not _caught(changed, values))


def of_methods() -> tuple[Published, ...]:
    """Return the published values whose computation reaches for the methods: no other can guard them."""
    return tuple(value for value in published() if _reaches(COMPUTATIONS[value.compute]))


def _reaches(computation: Callable[..., float]) -> bool:
    names = vars(sys.modules[computation.__module__]).values()
    return any(
        str(getattr(each, "__module__", None) or getattr(each, "__name__", "")).startswith(methods.__name__)
        for each in names
    )


def constants() -> Iterator[tuple[Constant, Callable[[], contextlib.AbstractContextManager[None]]]]:
    """Yield every constant of the methods with a context in which it is 1 % greater."""
    for module in _modules():
        tree = ast.parse(inspect.getsource(module))
        for top in tree.body:
            if isinstance(top, ast.FunctionDef):
                yield from _in_function(module, top)
            elif isinstance(top, ast.Assign | ast.AnnAssign) and top.value is not None:
                yield from _in_assignment(module, top)


def _modules() -> list[ModuleType]:
    names = [info.name for info in pkgutil.walk_packages(methods.__path__, f"{methods.__name__}.")]
    return [importlib.import_module(name) for name in names]


def _in_function(
    module: ModuleType, node: ast.FunctionDef
) -> Iterator[tuple[Constant, Callable[[], contextlib.AbstractContextManager[None]]]]:
    target = getattr(module, node.name, None)
    function = target.function if isinstance(target, Formula) else target
    if not isinstance(function, FunctionType):
        return
    formula = isinstance(target, Formula)
    for number in _numbers(node.body, whole=formula):
        original = number.value
        assert isinstance(original, int | float)
        number.value = original * (1 + STEP)
        bare = copy(node)
        bare.decorator_list = []
        code = compile(ast.fix_missing_locations(ast.Module([bare], [])), str(module.__file__), "exec")
        number.value = original
        scope: dict[str, Any] = dict(vars(module))
        exec(code, scope)
        changed = scope[node.name].__code__
        yield (
            Constant(module=module.__name__, line=number.lineno, place=node.name, value=float(original)),
            lambda changed=changed, function=function: _with_code(function, changed),
        )


def _in_assignment(
    module: ModuleType, node: ast.Assign | ast.AnnAssign
) -> Iterator[tuple[Constant, Callable[[], contextlib.AbstractContextManager[None]]]]:
    target = node.targets[0] if isinstance(node, ast.Assign) else node.target
    if not isinstance(target, ast.Name) or node.value is None:
        return
    for number in _numbers([node.value], whole=True):
        original = number.value
        assert isinstance(original, int | float)
        number.value = original * (1 + STEP)
        code = compile(ast.fix_missing_locations(ast.Expression(node.value)), str(module.__file__), "eval")
        number.value = original
        changed = eval(code, dict(vars(module)))
        yield (
            Constant(module=module.__name__, line=number.lineno, place=target.id, value=float(original)),
            lambda changed=changed, name=target.id: _with_name(module, name, changed),
        )


def _numbers(nodes: list[Any], *, whole: bool) -> Iterator[ast.Constant]:
    """Yield the numbers other than 0; outside formulas whole numbers are counts and indices, left alone."""
    for node in nodes:
        for child in ast.walk(node):
            if (
                isinstance(child, ast.Constant)
                and isinstance(child.value, int | float)
                and not isinstance(child.value, bool)
                and child.value != 0
                and (whole or isinstance(child.value, float))
            ):
                yield child


@contextmanager
def _with_code(function: FunctionType, code: Any) -> Generator[None]:
    original = function.__code__
    function.__code__ = code
    try:
        yield
    finally:
        function.__code__ = original


@contextmanager
def _with_name(module: ModuleType, name: str, value: Any) -> Generator[None]:
    original = getattr(module, name)
    setattr(module, name, value)
    try:
        yield
    finally:
        setattr(module, name, original)


def _caught(changed: Callable[[], contextlib.AbstractContextManager[None]], values: list[Published]) -> bool:
    with changed():
        return any(not _met(value) for value in values)


def _met(value: Published) -> bool:
    try:
        return proof_of(value).ok
    except (ArithmeticError, ValueError, IndexError):
        return False
