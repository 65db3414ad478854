"""How often the kart is swept through lock, and where it is asked for."""

from __future__ import annotations

import sys
from collections import Counter

import pytest

from kinematics.lock import sweep


def counted_sweeps(monkeypatch: pytest.MonkeyPatch) -> Counter[str]:
    """Sweeps from now on, by the module that asks for them, in every module that is loaded."""
    calls: Counter[str] = Counter()

    def counting(name: str):
        def counted(*arguments, **named):
            calls[name] += 1
            return sweep(*arguments, **named)

        return counted

    for name, module in list(sys.modules.items()):
        if name.startswith(("kinematics.", "scenarios.", "viz.")) and getattr(module, "sweep", None) is sweep:
            monkeypatch.setattr(module, "sweep", counting(name))
    return calls
