"""The book of materials that comes with the program: ``resources/materials``."""

from functools import lru_cache

from stringerlab.data import folder
from stringerlab.materials.reading import read_materials
from stringerlab.materials.records import Materials


@lru_cache(maxsize=1)
def shipped() -> Materials:
    """Return the shipped materials, read once.

    Raises
    ------
    StringerlabError
        When the files were damaged, with every problem in them.
    FileNotFoundError
        When the installation lacks its data.
    """
    return read_materials(sorted((folder("resources") / "materials").glob("*.toml")))
