"""Project files: codec, schema, versions, atomic store, lock. The only room that knows pydantic."""

from stringerlab.files.codec import FORMAT, dumps, loads
from stringerlab.files.lock import Lock, Owner
from stringerlab.files.migrations import VERSION
from stringerlab.files.parents import load_parent, parent_path
from stringerlab.files.schema import schema
from stringerlab.files.store import load, new_from_sample, samples, save

__all__ = [
    "FORMAT",
    "VERSION",
    "Lock",
    "Owner",
    "dumps",
    "load",
    "load_parent",
    "loads",
    "new_from_sample",
    "parent_path",
    "samples",
    "save",
    "schema",
]
