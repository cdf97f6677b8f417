"""A result is written whole or not at all."""

import os
import resource
import signal
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from compiler.outfile import OutputError, source_date, write_whole


def names_in(folder: Path) -> list[str]:
    """The names of all files in the folder, hidden ones too."""
    return sorted(entry.name for entry in folder.iterdir())


def test_the_file_holds_the_bytes_and_nothing_else_is_left(tmp_path: Path) -> None:
    target = tmp_path / "lyra.pdf"
    write_whole(target, b"first")
    write_whole(target, b"second")
    assert target.read_bytes() == b"second"
    assert names_in(tmp_path) == ["lyra.pdf"]


def test_a_new_file_gets_the_usual_permissions_and_an_old_one_keeps_its_own(tmp_path: Path) -> None:
    usual = tmp_path / "usual"
    usual.write_bytes(b"")
    target = tmp_path / "lyra.pdf"
    write_whole(target, b"first")
    assert stat.S_IMODE(target.stat().st_mode) == stat.S_IMODE(usual.stat().st_mode)
    target.chmod(0o640)
    write_whole(target, b"second")
    assert stat.S_IMODE(target.stat().st_mode) == 0o640


def test_a_link_stays_a_link_and_its_file_is_renewed(tmp_path: Path) -> None:
    real, link = tmp_path / "real.pdf", tmp_path / "link.pdf"
    real.write_bytes(b"old")
    link.symlink_to("real.pdf")
    write_whole(link, b"new")
    assert link.is_symlink()
    assert real.read_bytes() == b"new"


def test_a_folder_is_refused(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="it is a folder"):
        write_whole(tmp_path, b"x")


def test_a_device_is_refused_and_left_alone(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    with pytest.raises(OutputError, match="not an ordinary file"):
        write_whole(pipe, b"x")
    assert stat.S_ISFIFO(pipe.stat().st_mode)


def test_a_missing_folder_is_named(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match=r"there is no folder .*nowhere\.$"):
        write_whole(tmp_path / "nowhere" / "lyra.pdf", b"x")


def test_a_name_that_is_too_long_is_one_clear_error(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="name too long"):
        write_whole(tmp_path / ("x" * 300), b"x")
    assert names_in(tmp_path) == []


def test_a_read_only_file_keeps_its_content(open_folder: Path, without_privileges) -> None:
    target = open_folder / "lyra.pdf"
    target.write_bytes(b"old")
    target.chmod(0o444)
    with without_privileges(), pytest.raises(OutputError, match="Permission denied"):
        write_whole(target, b"new")
    assert target.read_bytes() == b"old"
    assert names_in(open_folder) == ["lyra.pdf"]


def test_a_read_only_folder_is_one_clear_error(open_folder: Path, without_privileges) -> None:
    open_folder.chmod(0o555)
    with without_privileges(), pytest.raises(OutputError, match="Permission denied"):
        write_whole(open_folder / "lyra.pdf", b"new")
    assert names_in(open_folder) == []


def test_when_the_disk_takes_no_more_the_old_file_stays_and_no_part_is_left(tmp_path: Path) -> None:
    target = tmp_path / "lyra.pdf"
    target.write_bytes(b"old")
    script = (
        "import sys\n"
        "from pathlib import Path\n"
        "from compiler.outfile import OutputError, write_whole\n"
        "try:\n"
        "    write_whole(Path(sys.argv[1]), bytes(100_000))\n"
        "except OutputError as error:\n"
        "    print(error.message)\n"
    )

    def allow_only_small_files() -> None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (50_000, 50_000))

    run = subprocess.run(
        [sys.executable, "-B", "-c", script, str(target)],
        capture_output=True,
        text=True,
        check=True,
        preexec_fn=allow_only_small_files,
    )
    assert run.stdout == f"Cannot write {target}: File too large.\n"
    assert target.read_bytes() == b"old"
    assert names_in(tmp_path) == ["lyra.pdf"]


def test_when_the_last_move_fails_the_old_file_stays(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    target = tmp_path / "lyra.pdf"
    target.write_bytes(b"old")

    def refuse(_self: Path, _target: Path) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", refuse)
    with pytest.raises(OutputError, match="No space left"):
        write_whole(target, b"new")
    assert target.read_bytes() == b"old"
    assert names_in(tmp_path) == ["lyra.pdf"]


@pytest.mark.parametrize(("text", "seconds"), [("0", 0), ("1700000000", 1_700_000_000), ("", None)])
def test_the_date_comes_from_the_environment(text: str, seconds: int | None) -> None:
    assert source_date({"SOURCE_DATE_EPOCH": text}) == seconds
    assert source_date({}) is None


@pytest.mark.parametrize("text", ["yesterday", "-1", "1.5", " 1", "١", "9" * 12, "1" * 5000])
def test_a_date_that_is_no_number_of_seconds_is_one_clear_error(text: str) -> None:
    with pytest.raises(OutputError, match="whole number of seconds"):
        source_date({"SOURCE_DATE_EPOCH": text})
