"""What the commands give is what was kept: structure, names, order and texts to the letter, numbers to 1e-9.

A move of code must leave it alone; every Python on the machine is tried with it.
"""

import copy

import pytest

from tests.told.recorded.record import answer, differences, kept, questions

QUESTIONS = list(questions())
REFRESH = "where that is meant: python -m tests.told.recorded.record"


@pytest.fixture(scope="module")
def before():
    return kept()


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda q: " ".join(q[:2]))
def test_the_answer_is_what_was_kept(before, question):
    found = list(differences(before[" ".join(question)], answer(question)))
    assert not found, "\n".join([f"{len(found)} differences; {REFRESH}", *found[:12]])


def test_nothing_else_is_kept(before):
    assert list(before) == [" ".join(question) for question in QUESTIONS]


@pytest.mark.parametrize(
    ("edit", "told"),
    [
        (lambda d: d["numbers"].__setitem__(1, 2.0 + 4e-9), "numbers[1]: 2.0 became 2.000000004"),
        (lambda d: d["numbers"].__setitem__(1, None), "numbers[1]: 2.0 became None"),
        (lambda d: d["numbers"].pop(), "numbers: 2 items became 1"),
        (lambda d: d.__setitem__("count", 3.0), "count: 3 became 3.0"),
        (lambda d: d["deep"].__setitem__("unit", "rad"), "deep.unit: 'deg' became 'rad'"),
        (lambda d: d.__setitem__("more", 1), "gone [], new ['more']"),
        (lambda d: d.__setitem__("count", d.pop("count")), "another order"),
    ],
)
def test_a_difference_is_told_with_its_place(edit, told):
    was = {"count": 3, "numbers": [1.0, 2.0], "deep": {"unit": "deg"}}
    now = copy.deepcopy(was)
    assert not list(differences(was, now))
    edit(now)
    [line] = differences(was, now)
    assert told in line


def test_the_last_bits_may_differ():
    assert not list(differences([400.0, 1e-13, -0.0], [400.0 + 1e-8, 0.0, 0.0]))
