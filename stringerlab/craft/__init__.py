"""The boat's particulars and hull bottom: where a station is, how wide and how deep the vee is there."""

from stringerlab.craft.bottom import Bottom, bottom
from stringerlab.craft.hull import chine_beam_at, deadrise_at, reference_place, section_at, station_problems
from stringerlab.craft.records import Category, Craft, Station

__all__ = [
    "Bottom",
    "Category",
    "Craft",
    "Station",
    "bottom",
    "chine_beam_at",
    "deadrise_at",
    "reference_place",
    "section_at",
    "station_problems",
]
