"""A new boat: the least sound project, so that every number is there from the start and moves at once.

The boat is invented; its figures are only a place to begin from.
"""

from stringerlab.craft.records import Category, Craft, Station
from stringerlab.laminate import resolve, thickness_with_gel
from stringerlab.laminate.records import Laminate, Ply
from stringerlab.layout.records import Panel, Span, Zone
from stringerlab.materials import Book, shipped
from stringerlab.project.edits import added
from stringerlab.project.records import Project
from stringerlab.section.records import Reference, Section
from stringerlab.section.shapes import hat
from stringerlab.units import System

NAME = "New boat"


def new_boat(units: System = System.METRIC) -> Project:
    """Return a sound project to begin from: a boat, two laminates, one zone, one hat, one panel, one span.

    Parameters
    ----------
    units
        Units the project shows.
    """
    project = Project(
        name=NAME,
        notes="Begun from invented figures: put your boat's own in their place.",
        units=units,
        craft=_craft(),
    )
    bottom, stringer = _bottom(), _stringer()
    project = added(added(project, bottom), stringer)
    bottom_id, stringer_id = (laminate.id for laminate in project.laminates)
    stations = project.craft.stations
    zone = Zone(id="", name="Bottom", laminate=bottom_id, aft=stations[0].x, forward=stations[-1].x)
    book = Book.of(shipped())
    walls = hat(
        height=110,
        crown_width=80,
        flange_width=55,
        draft=5,
        crown_radius=12,
        root_radius=12,
        laminate=stringer_id,
        thickness=thickness_with_gel(resolve(stringer, book)),
    )
    section = Section(
        id="",
        name="Hat stringer",
        walls=walls,
        reference=Reference(laminate=bottom_id, width=210),
    )
    project = added(project, section)
    panel = Panel(
        id="", name="Bottom between stringers", b=275, l=1400, x=2200, deadrise=16, laminate=bottom_id
    )
    span = Span(
        id="",
        name="Stringer between floors",
        section=project.sections[0].id,
        plating=bottom_id,
        lu=1400,
        s=410,
        x=2200,
        deadrise=16,
    )
    return added(added(added(project, panel), span), zone)


def _craft() -> Craft:
    return Craft(
        name="New boat",
        category=Category.C,
        waterline_length=5500,
        mass=1600,
        speed=28,
        stations=(
            Station(x=0, keel_z=0, chine_y=950, chine_z=250),
            Station(x=2200, keel_z=0, chine_y=980, chine_z=290),
            Station(x=4200, keel_z=40, chine_y=850, chine_z=400),
            Station(x=5600, keel_z=260, chine_y=430, chine_z=620),
        ),
    )


def _bottom() -> Laminate:
    return Laminate(
        id="",
        name="Bottom",
        plies=(
            Ply(material="gelcoat", thickness=0.5),
            *(Ply(material=of) for of in ("csm300", "csm450", *("wr600", "csm450") * 3)),
        ),
    )


def _stringer() -> Laminate:
    plies = tuple(Ply(material=of) for of in ("csm450", "wr600", "csm450", "wr600", "csm450"))
    return Laminate(id="", name="Stringer", plies=plies)
