import pytest

from stringerlab.project import Project
from stringerlab.project.places import Path, place


@pytest.mark.parametrize(
    ("path", "words"),
    [
        (("craft", "stations", 1, "keel_z"), "craft, station 2, keel_z"),
        (("sections", 0), "section 'Main stringer' (s4)"),
        (("sections", 0, "walls"), "section 'Main stringer' (s4), walls"),
        (("sections", 0, "walls", 0, "points", 3), "section 'Main stringer' (s4), wall 'Hat' (w5), point 4"),
        (
            ("sections", 0, "walls", 0, "points", 3, 1),
            "section 'Main stringer' (s4), wall 'Hat' (w5), point 4, z",
        ),
        (("sections", 0, "walls", 7, "fillets", 2), "section 'Main stringer' (s4), wall 8, fillet 3"),
        (("sections", 0, "reference", "laminate"), "section 'Main stringer' (s4), reference, laminate"),
        (("laminates", 1, "plies", 0, "angle"), "laminate 'Stringer' (l2), ply 1, angle"),
        (("materials", "solids", 0, "density", "value"), "solid 'Tank bed block' (x21), density, value"),
        (("spans", 0, "ends", 1), "span 'Main stringer, bay 2' (m9), end 2"),
        (("colour",), "colour"),
        ((), ""),
    ],
)
def test_place_reads_as_a_person_would_say_it(boat: Project, path: Path, words: str):
    assert place(boat, path) == words


def test_thing_without_a_name_goes_by_number_and_id():
    document = {"sections": [{"walls": [{"id": "w9"}, {"name": "Web"}, {}, 3]}]}
    said = [place(document, ("sections", 0, "walls", i)) for i in range(4)]
    assert said == [
        "section 1, wall 1 (w9)",
        "section 1, wall 'Web'",
        "section 1, wall 3",
        "section 1, wall 4",
    ]


def test_endless_name_is_cut_short():
    document = {"panels": [{"name": "x" * 500}]}
    assert len(place(document, ("panels", 0))) < 80
