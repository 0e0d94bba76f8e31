"""The layout that the plan shows of a project, and the scene made of it; kept until it changes."""

from dataclasses import replace

from stringerlab.desktop.plan.scene import Fresh, Scene
from stringerlab.layout.plan import Layout
from stringerlab.project import Project
from stringerlab.project.finding import found_in
from stringerlab.project.section_shapes import member_sizes

_KEPT = 2
"""Of the committed project, and of a preview."""


class Sight:
    """Looks at the layout in use, else at the one chosen last, else at the first."""

    def __init__(self) -> None:
        self.chosen = ""
        """Id of the layout chosen last."""
        self._scenes: list[Scene] = []

    def layout(self, project: Project) -> Layout | None:
        """Return the layout shown of a project; None when it has none."""
        held = {layout.id: layout for layout in project.layouts}
        wanted = (project.layout, self.chosen)
        return next((held[each] for each in wanted if each in held), next(iter(held.values()), None))

    def scene(
        self, project: Project, selected: tuple[str, ...], reach: float, grid: float, fresh: Fresh
    ) -> Scene | None:
        """Return the layout of a project as tools work on it; None when it has none."""
        layout = self.layout(project)
        if layout is None:
            return None
        alike = (each for each in self._scenes if each.project is project and each.layout is layout)
        held = next(alike, None)
        if held is None:
            made = Scene(
                project=project,
                layout=layout,
                found=found_in(project, layout),
                sizes=member_sizes(project, layout),
                selected=selected,
                reach=reach,
                grid=grid,
                fresh=fresh,
            )
        elif (held.selected, held.reach, held.grid, held.fresh) == (selected, reach, grid, fresh):
            return held
        else:
            made = replace(held, selected=selected, reach=reach, grid=grid, fresh=fresh)
        self._scenes = [made, *(each for each in self._scenes if each is not held)][:_KEPT]
        return made
