"""Which methods there are: modules and packages of this room that state ``METHOD``, found unloaded."""

import importlib
import pkgutil
import re
from functools import lru_cache
from importlib.machinery import PathFinder
from pathlib import Path
from threading import RLock
from types import ModuleType

from stringerlab import methods
from stringerlab.errors import Problem, StringerlabError
from stringerlab.methods.records import Method

_LOADING = RLock()
"""Two threads that import one package from both its ends may each find it half made."""
_STATED = re.compile(r"^METHOD\b", re.MULTILINE)


def available() -> tuple[str, ...]:
    """Return the ids of the methods, in alphabetical order; each folder of methods is looked through once."""
    return _found(tuple(methods.__path__))


def method_named(id: str) -> Method:  # noqa: A002
    """Return a method by its id, loading it now.

    Raises
    ------
    StringerlabError
        When there is no such method, or its module does not state one of that id.
    """
    known = available()
    if id not in known:
        raise StringerlabError(
            Problem(f"There is no method '{id}'.", remedy=f"Use one of: {', '.join(known)}.")
        )
    with _LOADING:
        stated = _method_in(importlib.import_module(f"{methods.__name__}.{id}"))
    if stated is None or stated.id != id:
        raise StringerlabError(
            Problem(f"The module '{id}' does not state a method of that id.", remedy="Name both alike.")
        )
    return stated


def _method_in(module: ModuleType) -> Method | None:
    stated = getattr(module, "METHOD", None)
    return stated if isinstance(stated, Method) else None


@lru_cache
def _found(paths: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(
        sorted(info.name for info in pkgutil.iter_modules(paths) if _states_method(info.name, paths))
    )


def _states_method(name: str, paths: tuple[str, ...]) -> bool:
    spec = PathFinder.find_spec(f"{methods.__name__}.{name}", list(paths))
    if spec is None or spec.origin is None:
        return False
    origin = Path(spec.origin)
    if origin.suffix != ".py":
        return _method_in(importlib.import_module(spec.name)) is not None
    return _STATED.search(origin.read_text(encoding="utf-8")) is not None
