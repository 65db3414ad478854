"""The rules of the house that a reader of one file cannot see: sizes, names, rooms, and what the tests share.

Each list below holds what still breaks a rule. It only shrinks: a new break fails, and so does a line that is
no longer needed.
"""

import ast
from collections import Counter, defaultdict
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from kinematics.figures import catalog
from tests.conftest import ROOMS

ROOT = Path(__file__).parents[2]
PACKAGES = ("kinematics", "scenarios", "viz")
SHARED = ("authorities", "bench", "helpers", "told", "twins")
MOST_MODULES, MOST_SIBLINGS, MOST_LINES, LONGEST_BODY = 16, 2, 300, 40

CROWDED: set[str] = set()
SAME_PREFIX: set[str] = set()
LONG_BODIES = {"kinematics/corner/pose.py: sweep_corner"}
LONG_FILES: set[str] = set()
TWO_CLASSES: set[str] = set()


def folders(top: Path) -> Iterator[Path]:
    """A folder and all below it that hold a module."""
    yield from sorted({file.parent for file in top.rglob("*.py")})


def modules(folder: Path) -> list[str]:
    """Names of the modules of a folder, those of tests without the word test."""
    names = (file.stem for file in folder.glob("*.py") if file.name not in ("__init__.py", "conftest.py"))
    return sorted(name.removeprefix("test_") for name in names)


def crowded(top: Path) -> set[str]:
    """Folders of too many modules."""
    return {here(folder, top) for folder in folders(top) if len(modules(folder)) > MOST_MODULES}


def same_prefix(top: Path) -> set[str]:
    """Folders with a family in them: too many modules whose names begin alike, up to the first underscore."""
    found = set()
    for folder in folders(top):
        families = Counter(name.partition("_")[0] for name in modules(folder))
        found |= {f"{here(folder, top)}: {name}" for name, n in families.items() if n > MOST_SIBLINGS}
    return found


def long_files(top: Path) -> set[str]:
    """Files of too many lines, in any language of the house."""
    files = (file for file in top.rglob("*") if file.suffix in (".py", ".js", ".css"))
    return {here(file, top) for file in files if len(file.read_text("utf-8").splitlines()) > MOST_LINES}


@cache
def nodes(file: Path) -> list[ast.AST]:
    """Everything in a module, as Python reads it."""
    return list(ast.walk(ast.parse(file.read_text("utf-8"))))


def long_bodies(top: Path) -> set[str]:
    """Functions whose body, without its docstring, has too many lines."""
    return {
        f"{here(file, top)}: {node.name}"
        for file in top.rglob("*.py")
        for node in nodes(file)
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)) and body_lines(node) > LONGEST_BODY
    }


def body_lines(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Lines of a function's body."""
    start = node.body[0]
    told = ast.get_docstring(node) is not None
    return (node.end_lineno or 0) - ((start.end_lineno or 0) if told else start.lineno - 1)


def two_classes(tops: list[Path]) -> set[str]:
    """Names that more than one class has."""
    homes = defaultdict(list)
    for file in (file for top in tops for file in top.rglob("*.py")):
        for node in nodes(file):
            if isinstance(node, ast.ClassDef):
                homes[node.name].append(file)
    return {name for name, files in homes.items() if len(files) > 1}


def homeless(tests: Path, root: Path) -> set[str]:
    """Folders of tests that are no room of a package and share nothing."""
    rooms = (folder.relative_to(tests) for folder in folders(tests) if folder != tests)
    own = (room for room in rooms if room.parts[0] not in SHARED)
    return {room.as_posix() for room in own if room.parts[0] not in PACKAGES or not (root / room).is_dir()}


def borrowing(tests: Path) -> set[str]:
    """Tests that take something from another test's module."""
    imports = (
        (file, node)
        for file in tests.rglob("*.py")
        for node in nodes(file)
        if isinstance(node, ast.ImportFrom)
    )
    return {here(file, tests) for file, node in imports if ".test_" in f".{node.module}"}


def here(path: Path, top: Path) -> str:
    """A path as a reader would say it, from the folder above top."""
    return path.relative_to(top.parent).as_posix()


TOPS = [ROOT / name for name in (*PACKAGES, "tests")]


@pytest.mark.parametrize(
    ("rule", "still"),
    [(crowded, CROWDED), (same_prefix, SAME_PREFIX), (long_files, LONG_FILES), (long_bodies, LONG_BODIES)],
    ids=lambda v: v.__name__ if callable(v) else "",
)
def test_rooms_files_and_functions_are_small(rule, still):
    found = set().union(*(rule(top) for top in TOPS))
    assert found - still == set(), rule.__doc__
    assert still - found == set(), "this no longer breaks the rule: strike it off the list"


def test_a_class_has_a_name_of_its_own():
    found = two_classes(TOPS[:3])
    assert found - TWO_CLASSES == set(), two_classes.__doc__
    assert TWO_CLASSES - found == set(), "this no longer breaks the rule: strike it off the list"


def test_the_tests_mirror_the_packages_and_take_nothing_from_each_other():
    assert homeless(ROOT / "tests", ROOT) == set()
    assert borrowing(ROOT / "tests") == set()
    assert [room for room in ROOMS if not (ROOT / "tests" / room).exists()] == []


LONG_BODY = "def long():\n    '''Told.'''\n" + "    x = 1\n" * 41
FAULTS = [
    (crowded, {f"m{n}.py": "" for n in range(17)}, "room"),
    (same_prefix, {"one_a.py": "", "test_one_b.py": "", "one.py": ""}, "room: one"),
    (long_files, {"a.js": "x\n" * 301}, "room/a.js"),
    (long_bodies, {"a.py": LONG_BODY}, "room/a.py: long"),
    (lambda top: two_classes([top]), {"a.py": "class A: ...", "b.py": "class A: ..."}, "A"),
    (borrowing, {"a.py": "from tests.viz.test_b import c"}, "room/a.py"),
    (lambda top: homeless(top, ROOT), {"viz/attic/a.py": ""}, "viz/attic"),
]


@pytest.mark.parametrize(("rule", "files", "told"), FAULTS)
def test_a_break_is_found(tmp_path, rule, files, told):
    room = tmp_path / "room"
    for name, text in files.items():
        (room / name).parent.mkdir(parents=True, exist_ok=True)
        (room / name).write_text(text)
    assert rule(room) == {told}


def test_what_just_fits_is_let_be(tmp_path):
    room = tmp_path / "room"
    room.mkdir()
    (room / "one_a.py").write_text(LONG_BODY.replace("    x = 1\n", "", 1))
    (room / "one_b.py").write_text("x\n" * 300)
    assert not crowded(room) | same_prefix(room) | long_files(room) | long_bodies(room)


def figure_names() -> tuple[set[str], set[str]]:
    """Names of the registry, and those with a star for their side, as an f-string would spell them."""
    every = catalog.every().values()
    spelled = {f"{one.figure.stem.replace('{side}', '*')}_{one.figure.unit.ending}" for one in every}
    return {one.name for one in every}, {name for name in spelled if "*" in name}


def spelled_by_hand(top: Path) -> set[str]:
    """Where a figure's name is a literal outside the registry; documents have keys of their own."""
    (names, starred), found = figure_names(), set()
    for file in (file for package in PACKAGES for file in (top / package).rglob("*.py")):
        place = file.relative_to(top).as_posix()
        if place.startswith(("kinematics/figures/", "scenarios/documents/")):
            continue
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            if isinstance(node, ast.Constant) and node.value in names:
                found.add(f"{place}: {node.value}")
            if isinstance(node, ast.JoinedStr):
                text = "".join(str(v.value) if isinstance(v, ast.Constant) else "*" for v in node.values)
                found |= {f"{place}: {text}"} & {f"{place}: {name}" for name in starred}
    return found


def test_a_figure_is_spelled_in_the_registry_alone():
    own_keys = {  # a place on the turn plates, a corner's own lock or a reading's in a file, not the figures
        "viz/sheet/readings.py: steer_*_deg",
        "scenarios/build.py: handwheel_deg",
        "scenarios/gauged/file.py: handwheel_deg",
        "scenarios/gauged/blank.py: handwheel_deg",
        "viz/browser/chosen/readings.py: handwheel_deg",
    }
    assert spelled_by_hand(ROOT) == own_keys


def test_a_name_spelled_elsewhere_is_seen(tmp_path):
    file = tmp_path / "viz" / "odd.py"
    file.parent.mkdir()
    file.write_text('LIST = ("camber_left_deg", "camber")\nname = f"scrub_{side}_mm"\n')
    assert spelled_by_hand(tmp_path) == {"viz/odd.py: camber_left_deg", "viz/odd.py: scrub_*_mm"}
