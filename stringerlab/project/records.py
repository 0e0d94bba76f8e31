"""The whole document: frozen, everything by id, counters for new ids. Numbers as the file holds them."""

from dataclasses import dataclass, field

from stringerlab.craft.records import Craft
from stringerlab.laminate.records import Laminate
from stringerlab.layout.as_built import AsBuilt
from stringerlab.layout.bonding import Bonding
from stringerlab.layout.plan import Layout
from stringerlab.layout.rates import Rates
from stringerlab.layout.records import Panel, Span, Zone
from stringerlab.materials.records import Materials
from stringerlab.project.paper import Paper
from stringerlab.project.wishes import Wishes
from stringerlab.section.records import Section
from stringerlab.units import System


@dataclass(frozen=True, slots=True, kw_only=True)
class Likeness:
    """A panel or span of this boat and the one of the parent boat it is held against, by ids."""

    own: str
    parent: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Parent:
    """A boat that has held up in service: its project file, beside this one, and what it has been through.

    A subject without a likeness is held against the nearest of its kind along the waterline.
    """

    file: str
    service: str = ""
    likenesses: tuple[Likeness, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Project:
    """A boat: its materials, laminates, sections, panels, spans, layouts, and the method that judges them.

    Ids are a kind letter and ``counter``'s next number (``w12``), never reused. ``materials`` are the
    project's own; the shipped book stands behind them. ``panels`` and ``spans`` are given by hand; those of
    the layout in use, whose id ``layout`` is, are found and judged beside them.
    """

    name: str
    notes: str = ""
    units: System = System.METRIC
    method: str = "iso_12215_5_2008"
    craft: Craft
    materials: Materials = field(default_factory=Materials)
    laminates: tuple[Laminate, ...] = ()
    zones: tuple[Zone, ...] = ()
    sections: tuple[Section, ...] = ()
    panels: tuple[Panel, ...] = ()
    spans: tuple[Span, ...] = ()
    layouts: tuple[Layout, ...] = ()
    layout: str = ""
    rates: Rates = field(default_factory=Rates)
    bonding: Bonding = field(default_factory=Bonding)
    parent: Parent | None = None
    as_built: AsBuilt | None = None
    paper: Paper = field(default_factory=Paper)
    wishes: Wishes = field(default_factory=Wishes)
    counter: int = 1
