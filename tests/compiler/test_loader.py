"""The loader: which files are read, which are not, and how that is told."""

import io
import os
import socket
import subprocess
import sys
from pathlib import Path

import pytest

from compiler import infile, loader
from compiler.infile import InputError, ReadError, read_bytes, read_text
from compiler.loader import load
from notation.limits import DEEPEST_IMPORTS

UNIT = "unit arm:\n    take 1 link\n"


def write(folder: Path, **texts: str) -> None:
    """Files `name.annulet`; two underscores in a name stand for a folder."""
    for name, text in texts.items():
        path = folder / (name.replace("__", "/") + ".annulet")
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")


def use(path: str) -> str:
    return f'use "{path}" as other\n'


def told(path: Path, root: Path | None = None) -> list[tuple[str, str, str]]:
    """Rule, variant and the text that is marked, for each problem of the loader itself."""
    loaded = load(str(path), root)
    return [
        (d.rule, d.variant, loaded.sources[d.place.source].text[slice(*d.place.span)])
        for d in loaded.diagnostics
        if d.rule.startswith(("import", "not-utf", "too-many-imports"))
    ]


def test_a_pattern_and_what_it_uses_are_read(tmp_path: Path) -> None:
    write(tmp_path, main=use("units/arm.annulet"), units__arm=UNIT)
    loaded = load(str(tmp_path / "main.annulet"))
    assert loaded.diagnostics == ()
    main, arm = (tmp_path / "main.annulet").as_posix(), (tmp_path / "units/arm.annulet").as_posix()
    assert list(loaded.library) == [(main, "units/arm.annulet")]
    assert list(loaded.sources) == [main, arm]


def test_paths_start_from_the_folder_of_the_file_they_stand_in(tmp_path: Path) -> None:
    write(tmp_path, main=use("units/arm.annulet"), units__arm=use("joint.annulet") + UNIT, units__joint=UNIT)
    loaded = load(str(tmp_path / "main.annulet"))
    assert loaded.diagnostics == ()
    assert [path for _, path in loaded.library] == ["units/arm.annulet", "joint.annulet"]


def test_a_file_used_twice_is_read_once(tmp_path: Path) -> None:
    write(tmp_path, main=use("a.annulet") + use("./a.annulet").replace("other", "again"), a=UNIT)
    loaded = load(str(tmp_path / "main.annulet"))
    first, second = loaded.library.values()
    assert first is second
    assert len(loaded.sources) == 2


def test_a_missing_file_is_told_at_the_path_with_where_it_was_looked_for(tmp_path: Path) -> None:
    write(tmp_path, main=use("units/none.annulet"))
    assert told(tmp_path / "main.annulet") == [("import-not-read", "missing", '"units/none.annulet"')]
    (problem,) = load(str(tmp_path / "main.annulet")).diagnostics
    assert dict(problem.arguments)["looked"] == (tmp_path / "units/none.annulet").as_posix()


@pytest.mark.parametrize("path", ["/etc/hostname", "C:/x.annulet", "C:x.annulet", "//server/x"])
def test_an_absolute_path_is_refused(tmp_path: Path, path: str) -> None:
    write(tmp_path, main=use(path))
    assert told(tmp_path / "main.annulet") == [("import-outside-project", "absolute", f'"{path}"')]


def test_a_path_out_of_the_project_is_refused_and_a_wider_root_allows_it(tmp_path: Path) -> None:
    write(tmp_path, designs__main=use("../units/arm.annulet"), units__arm=UNIT)
    main = tmp_path / "designs/main.annulet"
    assert told(main) == [("import-outside-project", "", '"../units/arm.annulet"')]
    assert told(main, tmp_path) == []


def test_the_nearest_marker_upward_makes_the_project(tmp_path: Path) -> None:
    write(tmp_path, designs__spring__main=use("../../units/arm.annulet"), units__arm=UNIT)
    main = tmp_path / "designs/spring/main.annulet"
    outside = [("import-outside-project", "", '"../../units/arm.annulet"')]
    assert told(main) == outside
    (tmp_path / "annulet.project").touch()
    assert told(main) == []
    (tmp_path / "designs/annulet.project").touch()
    assert told(main) == outside
    assert told(main, tmp_path) == []


def test_a_marker_that_is_a_folder_or_a_link_marks_nothing(tmp_path: Path) -> None:
    write(tmp_path, designs__main=use("../arm.annulet"), arm=UNIT)
    main = tmp_path / "designs/main.annulet"
    (tmp_path / "annulet.project").mkdir()
    assert told(main) == [("import-outside-project", "", '"../arm.annulet"')]
    (tmp_path / "annulet.project").rmdir()
    (tmp_path / "annulet.project").symlink_to(main)
    assert told(main) == [("import-outside-project", "", '"../arm.annulet"')]


def test_a_linked_folder_belongs_to_the_project_that_it_lies_in(tmp_path: Path) -> None:
    write(tmp_path, real__designs__main=use("../arm.annulet"), real__arm=UNIT, arm=UNIT)
    (tmp_path / "annulet.project").touch()
    (tmp_path / "real/annulet.project").touch()
    (tmp_path / "designs").symlink_to(tmp_path / "real/designs")
    main = tmp_path / "designs/main.annulet"
    assert told(main) == []
    assert (
        load(str(main))
        .library[main.as_posix(), "../arm.annulet"]
        .source.name.endswith("designs/../arm.annulet")
    )
    (tmp_path / "real/designs/annulet.project").touch()
    assert told(main) == [("import-outside-project", "", '"../arm.annulet"')]


def test_two_files_never_have_one_name(tmp_path: Path) -> None:
    write(tmp_path, main=use("linked/../arm.annulet") + use("arm.annulet").replace("other", "b"), arm=UNIT)
    write(tmp_path, deep__arm="nonsense " * 40 + "\n" + UNIT, deep__inner__x=UNIT)
    (tmp_path / "linked").symlink_to("deep/inner")
    loaded = load(str(tmp_path / "main.annulet"))
    assert len(loaded.sources) == 3
    for each in loaded.diagnostics:
        loaded.sources[each.place.source].position(each.place.span.end)


def test_a_link_that_leads_outside_counts_as_outside(tmp_path: Path) -> None:
    write(tmp_path, project__main=use("arm.annulet"), secret=UNIT)
    (tmp_path / "project/arm.annulet").symlink_to(tmp_path / "secret.annulet")
    assert told(tmp_path / "project/main.annulet") == [("import-outside-project", "", '"arm.annulet"')]


def test_a_linked_folder_that_leads_outside_counts_as_outside(tmp_path: Path) -> None:
    write(tmp_path, project__main=use("units/arm.annulet"), elsewhere__arm=UNIT)
    (tmp_path / "project/units").symlink_to(tmp_path / "elsewhere")
    assert told(tmp_path / "project/main.annulet") == [("import-outside-project", "", '"units/arm.annulet"')]


def test_a_link_inside_the_project_is_followed(tmp_path: Path) -> None:
    write(tmp_path, main=use("link.annulet"), arm=UNIT)
    (tmp_path / "link.annulet").symlink_to("arm.annulet")
    assert told(tmp_path / "main.annulet") == []


def test_files_that_use_each_other_are_a_circle(tmp_path: Path) -> None:
    write(tmp_path, main=use("a.annulet"), a=use("b.annulet") + UNIT, b=use("a.annulet") + UNIT)
    assert told(tmp_path / "main.annulet") == [("import-circle", "", '"a.annulet"')]


def test_a_file_that_uses_itself_is_a_circle(tmp_path: Path) -> None:
    write(tmp_path, main=use("main.annulet"))
    assert told(tmp_path / "main.annulet") == [("import-circle", "", '"main.annulet"')]


def test_a_circle_through_a_link_is_seen(tmp_path: Path) -> None:
    write(tmp_path, main=use("link.annulet"))
    (tmp_path / "link.annulet").symlink_to("main.annulet")
    assert told(tmp_path / "main.annulet") == [("import-circle", "", '"link.annulet"')]


def test_two_ways_to_one_file_are_no_circle(tmp_path: Path) -> None:
    write(
        tmp_path,
        main=use("a.annulet") + use("b.annulet").replace("other", "b"),
        a=use("c.annulet") + UNIT,
        b=use("c.annulet") + UNIT,
        c=UNIT,
    )
    assert told(tmp_path / "main.annulet") == []


def test_a_chain_of_files_is_bounded(tmp_path: Path) -> None:
    for number in range(DEEPEST_IMPORTS + 1):
        write(tmp_path, **{f"f{number}": use(f"f{number + 1}.annulet") + UNIT})
    write(tmp_path, **{f"f{DEEPEST_IMPORTS + 1}": UNIT})
    assert told(tmp_path / "f1.annulet") == []
    assert [rule for rule, *_ in told(tmp_path / "f0.annulet")] == ["imports-too-deep"]


def test_a_chain_is_bounded_also_where_its_end_was_read_before(tmp_path: Path) -> None:
    for number in range(DEEPEST_IMPORTS):
        write(tmp_path, **{f"f{number}": use(f"f{number + 1}.annulet") + UNIT})
    write(tmp_path, **{f"f{DEEPEST_IMPORTS}": UNIT})
    write(tmp_path, main=use("f1.annulet") + use("f0.annulet").replace("other", "b"))
    assert [(rule, mark) for rule, _, mark in told(tmp_path / "main.annulet")] == [
        ("imports-too-deep", '"f1.annulet"')  # in f0, one file further down than where it was used first
    ]


def test_the_number_of_files_is_bounded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(loader, "MOST_IMPORTS", 2)
    write(tmp_path, a=UNIT, b=UNIT, c=UNIT)
    write(tmp_path, main="".join(use(f"{x}.annulet").replace("other", x) for x in "abc"))
    assert told(tmp_path / "main.annulet") == [("too-many-imports", "", '"c.annulet"')]


def test_a_folder_in_place_of_a_used_file_is_told(tmp_path: Path) -> None:
    write(tmp_path, main=use("units"))
    (tmp_path / "units").mkdir()
    assert told(tmp_path / "main.annulet") == [("import-not-read", "folder", '"units"')]


def test_a_pipe_is_refused_without_waiting(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.annulet")
    write(tmp_path, main=use("pipe.annulet"))
    assert told(tmp_path / "main.annulet") == [("import-not-read", "special", '"pipe.annulet"')]
    with pytest.raises(InputError, match="not an ordinary file"):
        read_text(str(tmp_path / "pipe.annulet"))


def test_a_device_is_refused() -> None:
    with pytest.raises(InputError, match="not an ordinary file"):
        read_text("/dev/zero")


def test_a_socket_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)  # a socket's path must be short
    with socket.socket(socket.AF_UNIX) as end:
        end.bind("s.annulet")
        with pytest.raises(InputError, match=r"s\.annulet"):
            read_text("s.annulet")


def test_a_file_beyond_the_limit_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(infile, "LONGEST_FILE", 100)
    monkeypatch.setattr(infile, "_MOST_BYTES", 400)
    write(tmp_path, long="#" * 101, fits="#" * 100, wide="é" * 100, very="#" * 1000)
    for name in ("long", "very"):
        with pytest.raises(InputError, match="too long"):
            read_text(str(tmp_path / f"{name}.annulet"))
    for name in ("fits", "wide"):
        assert len(read_text(str(tmp_path / f"{name}.annulet")).source.text) == 100
    write(tmp_path, main=use("very.annulet"))
    assert told(tmp_path / "main.annulet") == [("import-not-read", "too-large", '"very.annulet"')]


@pytest.mark.parametrize("most", [100, 4096, 100_000])
def test_of_a_file_that_grows_while_it_is_read_one_byte_too_many_is_the_last(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, most: int
) -> None:
    path = tmp_path / "log"
    path.write_bytes(b"#" * most)  # fits while its size is looked at
    taken: list[int] = []

    class Growing(io.BufferedReader):
        """As if somebody wrote on and on: at every read there is more than is asked for."""

        def read(self, size: int | None = -1, /) -> bytes:
            assert size is not None and size >= 0, "a file without an end is read to its end"
            with path.open("ab") as log:
                log.write(b"#" * (size + 1))
            data = super().read(size)
            taken.append(len(data))
            return data

    monkeypatch.setattr(os, "fdopen", lambda handle, _mode: Growing(io.FileIO(handle)))
    with pytest.raises(ReadError) as caught:
        read_bytes(path, most)
    assert caught.value.variant == "too-large"
    assert sum(taken) == most + 1


@pytest.mark.parametrize("name", ["vela.layout", "fit.tsv"])
def test_a_pipe_where_we_keep_something_is_not_waited_for(tmp_path: Path, name: str) -> None:
    (tmp_path / "vela.annulet").write_text(
        'title "Vela"\nring link: inner 5 mm, wire 1 mm, metal copper\npiece tie:\n    take 1 link\n', "utf-8"
    )
    os.mkfifo(tmp_path / name)
    ran = subprocess.run(
        [sys.executable, "-m", "compiler", "catalogue" if name == "fit.tsv" else "check", str(tmp_path)],
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert ran.returncode in (0, 2)
    assert "mistake in annulet" not in ran.stderr


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("none.annulet", "there is no such file"),
        (".", "it is a folder"),
        ("none/x.annulet", "there is no such"),
    ],
)
def test_a_pattern_that_cannot_be_read_is_one_sentence(tmp_path: Path, name: str, says: str) -> None:
    with pytest.raises(InputError, match=says) as caught:
        load(str(tmp_path / name))
    assert caught.value.message.startswith("Cannot read ")
    assert caught.value.message.endswith(".")


def test_a_name_that_no_file_can_have_is_a_missing_file() -> None:
    with pytest.raises(InputError, match="there is no such file"):
        read_text("a\0b.annulet")


def test_a_file_without_permission_says_so(open_folder: Path, without_privileges) -> None:
    write(open_folder, shut=UNIT)
    path = open_folder / "shut.annulet"
    path.chmod(0)
    with without_privileges(), pytest.raises(InputError, match="permission denied"):
        read_text(str(path))


def test_bytes_that_are_not_utf_8_are_told_alone_and_in_their_place(tmp_path: Path) -> None:
    path = tmp_path / "latin.annulet"
    path.write_bytes(b'title "caf\xe9"\nnonsense here\n')
    loaded = load(str(path))
    assert not loaded.readable
    (problem,) = loaded.diagnostics
    assert (problem.rule, dict(problem.arguments)) == ("not-utf-8", {"byte": "0xe9", "offset": 10})


def test_a_used_file_that_is_not_utf_8_leaves_the_rest_checked(tmp_path: Path) -> None:
    write(tmp_path, main=use("latin.annulet"))
    (tmp_path / "latin.annulet").write_bytes(b"\xff\xfeu\0")
    loaded = load(str(tmp_path / "main.annulet"))
    assert loaded.readable
    assert [(d.rule, d.variant) for d in loaded.diagnostics] == [("not-utf-8", "utf-16")]
    assert loaded.library == {}


def test_a_pipe_with_a_writer_is_refused_all_the_same(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    reader = os.open(pipe, os.O_RDONLY | os.O_NONBLOCK)
    writer = os.open(pipe, os.O_WRONLY)
    try:
        os.write(writer, b"piece")
        with pytest.raises(InputError, match="give - for standard input"):
            read_text(str(pipe))
    finally:
        os.close(writer)
        os.close(reader)
