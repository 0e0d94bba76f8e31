"""Words of a plan: apart at the scale they are seen at, those laid over it first."""

from stringerlab.desktop.plan.naming import in_room
from stringerlab.drawing.display import Label, Mark, Picture, Role, Shape


def measure(label: Label) -> tuple[float, float]:
    return 8.0 * len(label.text), 12.0


def words(picture: Picture) -> dict[str, tuple[float, float]]:
    return {item.text: item.at for item in picture if isinstance(item, Label)}


def test_words_over_one_another_part_or_leave() -> None:
    mark = Mark(at=(0.0, 0.0), shape=Shape.CIRCLE, role=Role.NODE)
    heap = [Label(at=(0.0, 0.0), text=f"name {number}") for number in range(5)]
    seen = in_room((Picture(items=(mark, *heap)),), measure, 0.1)
    assert mark in seen.items
    heights = [at[1] for at in words(seen).values()]
    assert heights == [0.0, 120.0, -120.0]  # a line is 12 px, at 0.1 px a mm


def test_at_a_larger_scale_all_have_room() -> None:
    row = Picture(items=tuple(Label(at=(400.0 * n, 0.0), text=f"number {n}") for n in range(6)))
    assert len(words(in_room((row,), measure, 0.02))) < 6
    assert words(in_room((row,), measure, 1.0)) == words(row)


def test_what_is_laid_over_keeps_its_words_before_the_plan() -> None:
    ground = Picture(items=(Label(at=(0.0, 0.0), text="transom"),))
    values = Picture(items=tuple(Label(at=(0.0, 10.0 * n), text=f"{n} kN") for n in (-12, 0, 12)))
    seen = words(in_room((ground, values), measure, 0.1))
    assert "transom" not in seen
    assert set(seen) == {"-12 kN", "0 kN", "12 kN"}
