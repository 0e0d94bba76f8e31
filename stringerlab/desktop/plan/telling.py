"""What is told of a thing on the plan when the pointer rests on it. No Qt."""

from stringerlab.desktop.plan.hits import Hit, What, hit
from stringerlab.desktop.plan.scene import Scene
from stringerlab.desktop.sheet.tool import Place
from stringerlab.layout.plan import Cavity, Equipment, Member, PlanLine
from stringerlab.units import Kind
from stringerlab.units import format as shown


def tip(scene: Scene, at: Place) -> str:
    """Return what lies at a place, in words; empty for nothing."""
    found = hit(scene, at)
    return _words(scene, found) if found else ""


def _words(scene: Scene, found: Hit) -> str:
    if found.what is What.BAY:
        panel = scene.bays[found.id].panel
        if panel is None:
            return "Too small to be judged as a panel."
        return f"{panel.name} ({found.id})\n{scene.length(panel.b)} × {scene.length(panel.l)} in the skin"
    match scene.things.get(found.id):
        case Member() as member:
            names = {section.id: section.name for section in scene.project.sections}
            section = names.get(member.section, "no section")
            return (
                f"{member.name} ({member.id}), {member.kind}, {member.hand}\n{section}; crown {member.crown}"
            )
        case PlanLine() as line:
            ends = "panels end at it" if line.bounds else "panels run across it"
            return f"{line.name} ({line.id}), {line.kind}; {ends}"
        case Equipment() as thing:
            mass = f", {shown(thing.mass, Kind.MASS, scene.system)}" if thing.mass else ""
            return f"{thing.name or thing.kind} ({thing.id}), {thing.kind}{mass}"
        case Cavity() as cavity:
            return f"{cavity.name or cavity.use} ({cavity.id}), {cavity.use}"
        case _:
            return ""
