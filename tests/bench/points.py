"""How the points of kinematics/tolerance were chosen: writes them anew and prints how alike columns are.

Run from the repository: python -m tests.bench.points. Of the first 8,000 columns of SciPy's scrambled Sobol'
sequence those are taken, as they come, whose normal scores and their squares are hardly correlated with any
taken before, at 256 to 2,048 points: many columns are far more alike than chance would have them.
"""

import numpy as np
from scipy.stats import norm, qmc

from kinematics.tolerance.points import _KEPT, BITS, COLUMNS

SEED, POOL, DEPTH = 1601, 8000, 14
COUNTS = (256, 512, 1024, 2048)
LINEAR, SQUARE = 3.2, 7.5  # most correlation, times the root of the number of points


def standard(values: np.ndarray) -> np.ndarray:
    return (values - values.mean(axis=0)) / values.std(axis=0)


def pairs(score: np.ndarray, which: np.ndarray | slice) -> tuple[np.ndarray, np.ndarray]:
    """Largest correlation of some columns with every column, of scores alone and of a square with either."""
    plain, square = standard(score), standard(score**2)

    def with_all(one: np.ndarray, other: np.ndarray) -> np.ndarray:
        return np.abs(one[:, which].T @ other) / len(score)

    crossed = np.maximum(with_all(plain, square), with_all(square, plain))
    return with_all(plain, plain), np.maximum(crossed, with_all(square, square))


def chosen(score: np.ndarray) -> list[int]:
    """Columns hardly like any before them."""
    taken: list[int] = []
    alike = np.zeros(POOL, dtype=bool)
    for column in range(POOL):
        if not alike[column] and len(taken) < COLUMNS:
            taken.append(column)
            for count in COUNTS:
                linear, square = pairs(score[:count], np.array([column]))
                alike |= (linear[0] * count**0.5 > LINEAR) | (square[0] * count**0.5 > SQUARE)
    return taken


def main() -> None:
    sobol = qmc.Sobol(POOL, scramble=True, rng=np.random.default_rng(SEED))
    shift, matrices = sobol._shift.copy(), sobol._sv.T[:DEPTH].copy()
    score = norm.ppf(sobol.random(COUNTS[-1]) + 0.5 / 2**BITS).astype(np.float32)
    taken = chosen(score)
    np.save(_KEPT, np.vstack([taken, shift[taken], matrices[:, taken]]).astype(np.uint32))
    for count in COUNTS:
        linear, square = pairs(score[:count, taken], slice(None))
        off = ~np.eye(COLUMNS, dtype=bool)
        most, usual = linear[off].max(), np.sqrt(np.mean(linear[off] ** 2))
        print(
            f"{count} points: correlation at most {most:.3f}, root mean square {usual:.4f} "
            f"(by chance {count**-0.5:.4f}); with squares at most {square[off].max():.3f}"
        )


if __name__ == "__main__":
    main()
