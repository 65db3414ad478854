"""Files are written whole or not at all."""

import os
import stat

import pytest

from scenarios import files
from scenarios.errors import Refusal
from viz.files import Destination, Output, check_suffix, check_targets, write_all


def target(path, option="--csv"):
    return Destination(option, str(path))


def test_every_file_is_written_with_usual_permissions(tmp_path):
    write_all([Output(target(tmp_path / "a"), [b"one"]), Output(target(tmp_path / "b"), [b"two"])])
    assert (tmp_path / "a").read_bytes() == b"one"
    assert (tmp_path / "b").read_bytes() == b"two"
    mask = os.umask(0)
    os.umask(mask)
    assert stat.S_IMODE((tmp_path / "a").stat().st_mode) == 0o666 & ~mask
    assert sorted(p.name for p in tmp_path.iterdir()) == ["a", "b"]


def test_a_file_that_is_there_keeps_its_permissions_and_a_link_stays_a_link(tmp_path):
    there, link = tmp_path / "there", tmp_path / "link"
    there.write_text("old")
    there.chmod(0o640)
    link.symlink_to(there)
    write_all([Output(target(link), [b"new"])])
    assert link.is_symlink()
    assert there.read_bytes() == b"new"
    assert stat.S_IMODE(there.stat().st_mode) == 0o640


@pytest.mark.parametrize("fault", [OSError(28, "No space left on device"), KeyboardInterrupt()])
def test_a_failure_before_the_last_rename_leaves_nothing_behind(tmp_path, monkeypatch, fault):
    def fail(*arguments):
        raise fault

    (tmp_path / "b").write_text("old")
    monkeypatch.setattr(files, "_mode", fail)
    outputs = [Output(target(tmp_path / "a"), [b"one"]), Output(target(tmp_path / "b"), [b"two"])]
    with pytest.raises(Refusal if isinstance(fault, OSError) else KeyboardInterrupt):
        write_all(outputs)
    assert [(p.name, p.read_text()) for p in tmp_path.iterdir()] == [("b", "old")]


def test_a_second_file_that_fails_takes_the_first_with_it(tmp_path):
    outputs = [Output(target(tmp_path / "a"), [b"one"]), Output(target(tmp_path / "gone" / "b"), [b"two"])]
    with pytest.raises(Refusal, match=r"gone/b: No such file"):
        write_all(outputs)
    assert list(tmp_path.iterdir()) == []


def test_a_device_is_written_to_and_not_replaced():
    write_all([Output(target("/dev/null"), [b"lost"])])
    assert stat.S_ISCHR(os.stat("/dev/null").st_mode)


@pytest.mark.parametrize(
    ("path", "said"),
    [("", "is a folder"), (".", "is a folder"), ("new/", "is a folder"), ("none/x", "does not exist")],
)
def test_places_that_cannot_be_written_are_refused_beforehand(tmp_path, monkeypatch, path, said):
    monkeypatch.chdir(tmp_path)
    with pytest.raises(Refusal, match=said):
        check_targets([target(path)])


def test_a_name_with_a_null_byte_is_refused():
    with pytest.raises(Refusal, match="null"):
        check_targets([target("a\0b")])


def test_what_may_not_be_written_is_refused(tmp_path, monkeypatch):
    monkeypatch.setattr(os, "access", lambda *_: False)  # root may write anywhere, so the answer is forced
    with pytest.raises(Refusal, match="may not be written"):
        check_targets([target(tmp_path / "a")])


def test_two_outputs_may_not_share_a_place(tmp_path):
    (tmp_path / "link").symlink_to(tmp_path / "a")
    with pytest.raises(Refusal, match="overwrite the output of --csv"):
        check_targets([target(tmp_path / "a"), target(tmp_path / "link", "--json")])
    with pytest.raises(Refusal, match="overwrite the output of --csv"):
        check_targets([target("-"), target("-", "--json")])


def test_the_scenario_that_is_read_is_not_overwritten(tmp_path):
    kart = tmp_path / "kart.toml"
    kart.write_text("")
    with pytest.raises(Refusal, match="overwrite the scenario file"):
        check_targets([target(kart)], [str(kart)])


def test_a_suffix_is_read_in_any_case_and_an_unknown_one_refused():
    assert check_suffix(target("a.PNG", "--plot"), ("png", "svg")) == "png"
    for path in ("a.bmp", "a", "png", "-"):
        with pytest.raises(Refusal, match=r"must end in one of \.png, \.svg"):
            check_suffix(target(path, "--plot"), ("png", "svg"))


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="needs a device that is always full")
@pytest.mark.parametrize("order", [1, -1])
def test_no_file_is_put_in_place_beside_a_device_that_is_full(tmp_path, order):
    outputs = [Output(target(tmp_path / "a"), [b"one"]), Output(target("/dev/full"), [b"two"])]
    with pytest.raises(Refusal, match="cannot write /dev/full"):
        write_all(outputs[::order])
    assert list(tmp_path.iterdir()) == []
