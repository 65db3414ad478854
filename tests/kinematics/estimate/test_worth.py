"""What a reading would be worth, against the closed form of two numbers and a search of all orders."""

import itertools

import numpy as np
import pytest

from kinematics.estimate.worth import Offer, narrowed, plan, spreads


def test_a_reading_narrows_as_two_weights_do():
    """By hand: 3 known, 4 read: 2.4 left."""
    left = narrowed(np.array([[9.0]]), np.array([[0.25]]))
    assert np.sqrt(left[0, 0]) == pytest.approx(2.4)


def test_narrowing_is_the_inverse_of_the_information():
    rng = np.random.default_rng(0)
    root, rows = rng.normal(size=(5, 5)), rng.normal(size=(7, 5))
    before = root @ root.T
    want = np.linalg.inv(np.linalg.inv(before) + rows.T @ rows)
    np.testing.assert_allclose(narrowed(before, rows), want, atol=1e-9)
    np.testing.assert_allclose(spreads(before, np.eye(5)), np.sqrt(np.diag(before)))


def test_what_is_ready_costs_nothing_again():
    one = Offer(np.array([[3.0, 0.0]]), 1.0, (("scales", 10.0),))
    other = Offer(np.array([[0.0, 3.0]]), 1.0, (("scales", 10.0), ("shim", 2.0)))
    picked = list(plan(np.eye(2), np.eye(2), [one, other]))
    assert [(step.place, step.minutes) for step in picked] == [(0, 11.0), (1, 3.0)]
    np.testing.assert_allclose(picked[-1].spread, 1.0 / np.sqrt(10.0))


def test_time_that_is_up_ends_a_plan_and_what_tells_nothing_is_not_in_it():
    some = [
        Offer(np.array([[2.0]]), 5.0),
        Offer(np.array([[9.0]]), 50.0),
        Offer(np.zeros((1, 1)), 1.0),
    ]
    assert [step.place for step in plan(np.eye(1), np.eye(1), some, 20.0)] == [0]
    assert list(plan(np.eye(1), np.eye(1), some, 4.0)) == []


def test_the_first_pick_is_the_best_of_all():
    rng = np.random.default_rng(3)
    some = [Offer(rng.normal(size=(2, 4)), float(rng.uniform(1, 9))) for _ in range(12)]
    asked = rng.normal(size=(1, 4))

    def told(one):
        after, before = spreads(narrowed(np.eye(4), one.rows), asked), spreads(np.eye(4), asked)
        return np.log(before / after).sum() / one.minutes

    first = next(plan(np.eye(4), asked, some))
    assert first.place == max(range(12), key=lambda at: told(some[at]))
    spread = [step.spread[0] for step in plan(np.eye(4), asked, some)]
    assert all(a > b for a, b in itertools.pairwise(spread))
