"""Materials: frozen records with a source for every value, the shipped book, estimates from glass content."""

from stringerlab.materials.book import AnyMaterial, Book
from stringerlab.materials.checks import material_problems
from stringerlab.materials.doubts import material_doubts, weight_doubt
from stringerlab.materials.estimating import Number, estimated
from stringerlab.materials.reading import read_materials
from stringerlab.materials.shipping import shipped

__all__ = [
    "AnyMaterial",
    "Book",
    "Number",
    "estimated",
    "material_doubts",
    "material_problems",
    "read_materials",
    "shipped",
    "weight_doubt",
]
