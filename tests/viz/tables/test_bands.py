"""The bands of a first answer as a table: each figure once, with the value and the ends that it has."""

import pytest

import scenarios
from scenarios.ask.answer import answer
from tests.helpers.command import printed
from viz.tables.bands import bands_table
from viz.words.width import WIDTH


@pytest.fixture(scope="module")
def told():
    return answer(scenarios.load(), ["as-delivered", "more-caster"], ["slow corner"], None, 32, "reset")


@pytest.mark.parametrize("changes", [False, True])
def test_every_figure_stands_in_it_once_with_its_own_numbers(told, changes):
    head, heads, *rows, legend = bands_table(told, "more-caster", changes)
    assert ("less as-delivered" in head) is changes
    assert heads.split() == ["figure", "unit", "value", "from", "to"]
    assert len(rows) == len(told.found.addresses)
    assert max(map(len, (head, heads, *rows, legend))) <= WIDTH
    of = told.found.change if changes else told.found.of
    for row, address in zip(rows, told.found.addresses, strict=True):
        value = of("more-caster", address).value
        said = row.split()[-3]
        if value is not None and said != "never":
            assert float(said) == pytest.approx(value, abs=0.51 * 10.0**-address.figure.digits)
    assert any("never" in row for row in rows) is changes


def test_it_comes_with_the_tables_and_goes_with_the_bands(capsys):
    one = ("sweep", "--case", "slow corner", "--positions", "3", "--tables")
    assert "95 of 100 likely karts between:" in printed(capsys, *one)
    assert "likely karts" not in printed(capsys, *one, "--sure", "none")
