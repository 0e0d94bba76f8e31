"""Packs as text and back, to the last bit; and the digest that tells one run from another."""

import base64
import hashlib
from collections.abc import Mapping
from typing import Any, cast

import numpy as np

from stringerlab import __version__
from stringerlab.files import dumps
from stringerlab.project import Project
from stringerlab.sizing.running.records import Pack

_DIGITS = 32
"""Of a digest in hexadecimal."""


def digest_of(*asked: object) -> str:
    """Return what tells a run from any other: its project, plan, seed, and the program's version.

    Parameters
    ----------
    asked
        Projects, arrays, and whatever else has a ``repr`` that tells it from any other, such as the
        document's records.
    """
    told = hashlib.sha256(__version__.encode())
    for one in asked:
        if isinstance(one, Project):
            told.update(dumps(one))
        elif isinstance(one, np.ndarray):
            array = np.ascontiguousarray(cast("np.ndarray[Any, Any]", one))
            told.update(f"{array.dtype.str}{array.shape}".encode())
            told.update(array.tobytes())
        else:
            told.update(repr(one).encode())
        told.update(b"\x00")
    return told.hexdigest()[:_DIGITS]


def as_plain(pack: Pack) -> dict[str, Any]:
    """Return a pack as what JSON can say.

    Raises
    ------
    TypeError
        When it holds anything but arrays of numbers or words, numbers and words.
    """
    return {name: _plain(name, value) for name, value in pack.items()}


def from_plain(plain: Mapping[str, Any]) -> Pack:
    """Return the pack that ``as_plain`` gave; its arrays can be written to, as new ones can.

    Raises
    ------
    ValueError, KeyError, TypeError
        When it is none.
    """
    return {name: _value(value) for name, value in plain.items()}


def _plain(name: str, value: object) -> object:
    if isinstance(value, np.ndarray):
        array = np.ascontiguousarray(cast("np.ndarray[Any, Any]", value))
        if array.dtype.hasobject:
            raise TypeError(f"'{name}' is an array of objects, which a journal cannot keep")
        return {
            "type": array.dtype.str,
            "shape": list(np.shape(cast("np.ndarray[Any, Any]", value))),
            "bytes": base64.b64encode(array.tobytes()).decode("ascii"),
        }
    if isinstance(value, np.generic):
        return _plain(name, cast("object", value.item()))
    if isinstance(value, bool | int | float | str):
        return value
    raise TypeError(f"'{name}' is a {type(value).__name__}, which a journal cannot keep")


def _value(value: Any) -> Any:
    if not isinstance(value, dict):
        return value
    array = cast("dict[str, Any]", value)
    raw = base64.b64decode(array["bytes"], validate=True)
    return np.frombuffer(raw, dtype=np.dtype(array["type"])).reshape(array["shape"]).copy()
