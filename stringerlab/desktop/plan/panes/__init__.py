"""What stands beside the plan, a tab each: tables and forms of the layout, and what was found."""

from stringerlab.desktop.plan.panes.cavities import CavitiesPane
from stringerlab.desktop.plan.panes.found import FoundPane
from stringerlab.desktop.plan.panes.grid import GridPane
from stringerlab.desktop.plan.panes.loads import LoadsPane
from stringerlab.desktop.plan.panes.members import MembersPane
from stringerlab.desktop.plan.panes.rules import RulesPane

Pane = MembersPane | FoundPane | CavitiesPane | LoadsPane | RulesPane | GridPane
PANES: tuple[tuple[str, type[Pane]], ...] = (
    (MembersPane.title, MembersPane),
    (FoundPane.title, FoundPane),
    (CavitiesPane.title, CavitiesPane),
    (LoadsPane.title, LoadsPane),
    (RulesPane.title, RulesPane),
    (GridPane.title, GridPane),
)
"""Titles and widgets, each made with a session; ``under`` says whether one stands below the plan.

`GridPane.overlaid` tells what to lay over the plan.
"""

__all__ = [
    "PANES",
    "CavitiesPane",
    "FoundPane",
    "GridPane",
    "LoadsPane",
    "MembersPane",
    "Pane",
    "RulesPane",
]
