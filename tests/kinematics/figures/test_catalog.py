"""The registry: every figure is a whole row, its name is its own, and its address reads back as typed."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from math import inf, radians
from string import printable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kinematics.figures import catalog
from kinematics.figures.figure import FRONT, WHEELS, Given, Of, each
from tests.helpers.cost.counting import counted_sweeps

GROUPS = {
    "through lock": (catalog.THROUGH_LOCK, {Of.LOCK}),
    "headline": (catalog.HEADLINE, {Of.LOCK, Of.AHEAD}),
    "near": (catalog.NEAR, {Of.NEAR}),
    "in a case": (catalog.IN_CASE, {Of.CASE}),
    "of a turn": (catalog.OF_TURN, {Of.HELD, Of.SCAN, Of.AT_LOCK}),
    "places": (catalog.PLACES, {Of.AHEAD}),
}
EVERY = tuple(catalog.every().values())
LOCKED = (Of.LOCK, Of.CASE, Of.AT_LOCK)
"""What may have a lock position in its address."""


@pytest.mark.parametrize(("group", "belongs"), GROUPS.values(), ids=GROUPS)
def test_a_group_names_each_figure_once_and_holds_what_belongs_there(group, belongs):
    counts = Counter(one.name for one in each(group))
    assert max(counts.values()) == 1
    assert {one.figure.of for one in each(group)} <= belongs


def test_a_name_is_one_figures_alone():
    """A headline figure may be a column too: it is then the same row, read straight ahead."""
    rows: dict[str, set[object]] = {}
    for group, _ in GROUPS.values():
        for one in each(group):
            rows.setdefault(one.name, set()).add((one.figure, one.side))
    assert {name for name, some in rows.items() if len(some) > 1} == set()
    assert set(rows) == set(catalog.every())


@pytest.mark.parametrize("one", EVERY, ids=lambda one: one.name)
def test_a_row_says_everything_about_its_figure(one):
    figure = one.figure
    assert one.name == f"{figure.stem.format(side=one.side)}_{figure.unit.ending}"
    assert figure.unit.text
    assert figure.label
    assert isinstance(figure.digits, int)
    assert figure.digits >= 0
    assert 0.0 < figure.worth < inf
    said = one.said(Given(toe_diameter=321.0))
    assert len(said) > 10
    assert not {"{", "}"} & set(said)
    assert one.side in (*FRONT, *WHEELS, "front", "rear", "")
    assert (one.side == "") == ("{side}" not in figure.stem)
    assert one.side in figure.sides


def test_toe_in_mm_says_across_which_diameter():
    assert "321 mm" in catalog.find("toe_total_mm").said(Given(toe_diameter=321.0))


@pytest.mark.parametrize(
    ("name", "message"),
    [
        ("castor_left_deg", "unknown figure 'castor_left_deg'"),
        ("camber_lft_deg", "unknown figure 'camber_lft_deg'"),
        ("wheel_dropp_left_mm", "unknown figure 'wheel_dropp_left_mm'"),
        ("zzz", "unknown figure 'zzz'$"),
    ],
)
def test_an_unknown_name_is_refused_in_one_line(name, message):
    for read in (catalog.find, catalog.address, lambda text: catalog.address(f"{text}@30@slow corner")):
        with pytest.raises(ValueError, match=message) as caught:
            read(name)
        assert "\n" not in str(caught.value)


@pytest.mark.parametrize("text", ["camber_left_deg@", "camber_left_deg@l", "camber_left_deg@nan@x"])
def test_a_lock_that_is_no_number_is_refused_in_one_line(text):
    with pytest.raises(ValueError, match=r"is not a (finite )?number") as caught:
        catalog.address(text)
    assert "\n" not in str(caught.value)


case_names = st.one_of(
    st.text(st.sampled_from("ab 3.@=-+_"), min_size=1, max_size=12),
    st.text(st.sampled_from(printable), min_size=1, max_size=12),
    st.sampled_from(["slow corner", "a @ b", "a=b", "30", "=@=", "x@30", "now+10%", "or none"]),
).filter(lambda name: name == name.strip())
locks_deg = st.one_of(
    st.integers(-75, 75).map(float),
    st.integers(-75_000_000, 75_000_000).map(lambda n: n / 1e6),
    st.sampled_from([0.0, 1e-6, -1e-6, 33.333333, 74.999999]),
)


def _numbered(name: str) -> bool:
    """Whether a case's name looks like a lock with a case behind it."""
    first, at, _ = name.partition("@")
    try:
        return bool(at) and abs(float(first)) < inf
    except ValueError:
        return False


def placed(one, lock_deg, case):
    """A figure with the lock and the case that its kind takes."""
    lock = None if one.figure.of not in LOCKED else radians(lock_deg)
    return replace(one, lock=lock, case=case if one.figure.of.in_case else None)


@pytest.mark.parametrize("one", EVERY, ids=lambda one: one.name)
@given(locks_deg, case_names)
@settings(max_examples=15)
def test_an_address_reads_back_from_what_it_prints(one, lock_deg, case):
    if one.figure.of.whole_turn and _numbered(case):
        return  # a number in front of another '@' is a lock, to be refused as one
    address = placed(one, lock_deg, case)
    again = catalog.address(str(address))
    assert again == address
    assert str(again) == str(address)
    assert again.lock_deg == (None if address.lock is None else pytest.approx(lock_deg, abs=1e-12))


@given(st.sampled_from([one for one in EVERY if one.figure.of in LOCKED]), locks_deg, case_names)
def test_what_is_typed_is_printed_as_it_was(one, lock_deg, case):
    typed = f"{one.name}@{lock_deg:.12g}" + (f"@{case}" if one.figure.of.in_case else "")
    address = catalog.address(typed)
    assert str(address) == typed
    assert (address.name, address.case) == (one.name, case if one.figure.of.in_case else None)
    assert f"{address.lock_deg:.12g}" == f"{lock_deg:.12g}"
    spaced = f" {one.name} @ {lock_deg:.12g} " + (f"@ {case} " if one.figure.of.in_case else "")
    assert catalog.address(spaced) == address


@given(st.sampled_from([one for one in EVERY if one.figure.of is Of.LOCK]))
def test_a_headline_figure_is_typed_without_a_lock(one):
    assert catalog.address(one.name) == one
    assert str(one) == one.name


def test_names_meanings_and_addresses_cost_no_sweep(monkeypatch):
    calls = counted_sweeps(monkeypatch)
    for one in catalog.every().values():
        address = placed(one, 20.0, "slow corner")
        catalog.check(catalog.address(str(address)), ["slow corner"], radians(60.0))
        assert address.words.startswith(one.name)
    assert not calls
