"""What a project is asked about though nothing forbids it, as a number that looks like another unit's."""

from collections.abc import Iterator

from stringerlab.errors import Problem
from stringerlab.laminate.doubts import laminate_doubts
from stringerlab.materials import Book, material_doubts, weight_doubt
from stringerlab.project.places import place
from stringerlab.project.plating import zone_doubts
from stringerlab.project.records import Project


def doubts(project: Project, book: Book) -> Iterator[Problem]:
    """Yield everything to be asked about, in the order of the file."""
    yield from material_doubts(project.materials)
    for number, laminate in enumerate(project.laminates):
        yield from laminate_doubts(laminate, book)
        for count, ply in enumerate(laminate.plies):
            material = book.reinforcement(ply.material)
            if material is None or ply.weight is None:
                continue
            if doubt := weight_doubt(material.kind, ply.weight):
                yield Problem(doubt, place(project, ("laminates", number, "plies", count)))
    yield from zone_doubts(project)
