"""How a colour #rrggbb is seen: contrast (WCAG 2.2), and how far two are apart, for colour-blind eyes too."""

from __future__ import annotations

import numpy as np

from viz.look.palette import rgb

# Machado, Oliveira, Fernandes, A Physiologically-based Model for Simulation of Color Vision Deficiency
# (IEEE TVCG 15/6, 2009), table of matrices for severity 1.0, on linear light; from memory.
EYES = {
    "usual": np.eye(3),
    "protan": np.array(
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]
    ),
    "deutan": np.array(
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]
    ),
}
TO_XYZ = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])


def linear(colour):
    """Linear light of a colour (3,), IEC 61966-2-1."""
    c = np.array(rgb(colour)) / 255.0
    return np.where(c <= 0.04045, c / 12.92, ((c + 0.055) / 1.055) ** 2.4)


def contrast(a, b):
    """Contrast ratio of two colours, 1..21 (WCAG 2.2)."""
    low, high = sorted(float(linear(x) @ TO_XYZ[1]) for x in (a, b))
    return (high + 0.05) / (low + 0.05)


def lab(colour, eye="usual"):
    """CIE 1976 L*a*b* (3,) of a colour as an eye sees it."""
    seen = np.clip(EYES[eye] @ linear(colour), 0.0, 1.0)
    share = TO_XYZ @ seen / TO_XYZ.sum(axis=1)
    x, y, z = np.where(share > 216.0 / 24389.0, np.cbrt(share), (24389.0 / 27.0 * share + 16.0) / 116.0)
    return np.array([116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)])


def apart(a, b, eye="usual"):
    """How far two colours are apart (CIE 1976); 2 is just seen side by side."""
    return float(np.linalg.norm(lab(a, eye) - lab(b, eye)))
