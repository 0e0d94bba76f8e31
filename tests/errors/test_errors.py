import pickle

import pytest

from stringerlab.errors import FIRST_SHOWN, Problem, StringerlabError, shown


def test_a_problem_says_where_what_and_what_to_do() -> None:
    problem = Problem("The ply is 0 mm thick.", "laminate 'Bottom' (l1), ply 3", "Give its thickness.")
    assert str(problem) == "laminate 'Bottom' (l1), ply 3: The ply is 0 mm thick. Give its thickness."
    assert str(Problem("Nothing else.")) == "Nothing else."


def test_an_error_carries_every_problem() -> None:
    error = StringerlabError([Problem("One."), Problem("Two.")])
    assert [problem.what for problem in error.problems] == ["One.", "Two."]
    assert str(error) == "One.\nTwo."
    assert StringerlabError(Problem("One.")).problems == (Problem("One."),)


def test_the_first_fifty_of_three_thousand_are_shown_and_the_rest_counted() -> None:
    lines = shown(Problem(f"Problem {number}.") for number in range(3000))
    assert len(lines) == FIRST_SHOWN + 1
    assert lines[FIRST_SHOWN - 1] == "Problem 49."
    assert lines[-1] == "… and 2950 more of 3000."
    assert shown([Problem("One.")] * FIRST_SHOWN) == ["One."] * FIRST_SHOWN


def test_an_error_survives_the_way_between_processes() -> None:
    error = StringerlabError([Problem("One.", "here", "Do."), Problem("Two.")])
    again = pickle.loads(pickle.dumps(error))
    assert again.problems == error.problems
    assert str(again) == str(error)


def test_an_error_without_a_problem_is_refused() -> None:
    with pytest.raises(ValueError, match="needs a problem"):
        StringerlabError([])
