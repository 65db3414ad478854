"""The tests, a mirror of the packages; what they share stands in `helpers`, other engines in `twins`."""

import pytest

pytest.register_assert_rewrite("tests.helpers")
