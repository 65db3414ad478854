"""How a colour #rrggbb is seen: contrast (WCAG 2.2), and how far two are apart, for colour-blind eyes too."""

from __future__ import annotations

import numpy as np

from viz.look.palette import rgb

# Machado, Oliveira, Fernandes, A Physiologically-based Model for Simulation of Color Vision Deficiency
# (IEEE TVCG 15/6, 2009), table of matrices for severity 1.0, on linear light; as in colorspacious 1.1.2.
EYES = {
    "usual": np.eye(3),
    "protan": np.array(
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]
    ),
    "deutan": np.array(
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]
    ),
    "tritan": np.array(
        [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]]
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
    """How far two colours are apart as an eye sees them (CIEDE2000); 2 is just seen side by side."""
    return ciede2000(lab(a, eye), lab(b, eye))


def ciede2000(one, other):
    """CIEDE2000 of two L*a*b* (3,), all weights 1 (Sharma, Wu, Dalal, Color Res. Appl. 30/1, 2005)."""
    (light, c, h), (light2, c2, h2) = _lightness_chroma_hue(one, other)
    turn = np.radians((h2 - h + 180.0) % 360.0 - 180.0) if c * c2 else 0.0
    mean, chroma = 0.5 * (light + light2) - 50.0, 0.5 * (c + c2)
    hue = h + 0.5 * np.degrees(turn) if c * c2 else h + h2
    t = sum(w * np.cos(np.radians(n * hue + at)) for w, n, at in WAVES)
    of_light = (light2 - light) / (1.0 + 0.015 * mean**2 / np.sqrt(20.0 + mean**2))
    of_chroma = (c2 - c) / (1.0 + 0.045 * chroma)
    of_hue = 2.0 * np.sqrt(c * c2) * np.sin(0.5 * turn) / (1.0 + 0.015 * chroma * t)
    blue = np.radians(60.0 * np.exp(-((((hue - 275.0 + 180.0) % 360.0 - 180.0) / 25.0) ** 2)))
    mixed = -2.0 * _strong(chroma) * np.sin(blue) * of_chroma * of_hue
    return float(np.sqrt(of_light**2 + of_chroma**2 + of_hue**2 + mixed))


WAVES = ((1.0, 0, 0.0), (-0.17, 1, -30.0), (0.24, 2, 0.0), (0.32, 3, 6.0), (-0.20, 4, -63.0))


def _strong(chroma):
    return np.sqrt(chroma**7 / (chroma**7 + 25.0**7))


def _lightness_chroma_hue(*colours):
    """Of each: L*, chroma and hue (deg) with a* stretched where colours are pale."""
    stretch = 1.0 + 0.5 * (1.0 - _strong(np.mean([np.hypot(a, b) for _, a, b in colours])))
    return [
        (light, np.hypot(stretch * a, b), np.degrees(np.arctan2(b, stretch * a)) % 360.0)
        for light, a, b in colours
    ]
