"""Project to results: resolve, judge, collect. Nothing here computes what a lower room computes."""

from stringerlab.assess.check import Cancelled, Results, check
from stringerlab.assess.sections import reference_plating, section_facts, section_properties, sound_shape

__all__ = [
    "Cancelled",
    "Results",
    "check",
    "reference_plating",
    "section_facts",
    "section_properties",
    "sound_shape",
]
