"""Kept geometry: written rounded, read only when it is for this piece and the proof passes it."""

import math
from pathlib import Path

import pytest
from msgspec.structs import replace

from compiler.kept import (
    SEARCH,
    NotKept,
    Sought,
    parsed,
    problem_key,
    proved_again,
    read_kept,
    write_kept,
    written,
)
from compiler.layout import (
    Between,
    CycleSign,
    DeclaredPair,
    Hint,
    Layout,
    LayoutProblem,
    PairState,
    RingSize,
    kept_path,
    rounded_circle,
)
from compiler.outfile import OutputError
from compiler.prove import prove

SIZE = RingSize(core_radius=2.4, tube_radius=0.4)
PROBLEM = LayoutProblem(
    rings=(SIZE, SIZE), pairs=(DeclaredPair(a=0, b=1, state=PairState.LINKED),), strands=((0, 1),)
)
CIRCLES = (
    rounded_circle((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), SIZE),
    rounded_circle((2.4, 0.1 / 3, -0.0), (0.0, math.sin(1.5), math.cos(1.5)), SIZE),
)
LAYOUT = Layout(circles=CIRCLES, verdict=prove(PROBLEM, CIRCLES))


def kept_text() -> str:
    return written([("earring", problem_key(PROBLEM), LAYOUT)])


def test_a_layout_comes_back_as_it_was_with_its_verdict(tmp_path: Path) -> None:
    assert LAYOUT.verdict.proved
    path = tmp_path / "lyra.layout"
    write_kept(path, {"earring": PROBLEM}, {"earring": LAYOUT})
    assert read_kept(path, {"earring": PROBLEM}) == {"earring": LAYOUT}
    assert path.read_text() == kept_text()


def test_the_file_lies_beside_the_pattern() -> None:
    assert kept_path(Path("pieces") / "lyra.annulet") == Path("pieces") / "lyra.layout"


def test_numbers_are_kept_to_a_ten_thousandth_of_a_millimetre_without_minus_zero() -> None:
    assert kept_text().split("\n")[3] == "2.4000 0.0333 0.0000 0.0000000 0.9974950 0.0707372"


def test_a_file_with_other_line_ends_is_read(tmp_path: Path) -> None:
    path = tmp_path / "lyra.layout"
    path.write_bytes(kept_text().replace("\n", "\r\n").encode())
    assert read_kept(path, {"earring": PROBLEM}) == {"earring": LAYOUT}


@pytest.mark.parametrize(
    "changed",
    [
        replace(PROBLEM, rings=(SIZE, RingSize(core_radius=2.4, tube_radius=0.41))),
        replace(PROBLEM, pairs=()),
        replace(PROBLEM, pairs=(DeclaredPair(a=0, b=1, state=PairState.A_AROUND_B),)),
        replace(PROBLEM, strands=()),
        replace(PROBLEM, cycles=(CycleSign(rings=(0, 1), product=1),)),
        replace(PROBLEM, cycles=(CycleSign(rings=(0, 1), product=-1),)),
        replace(PROBLEM, between=(Between(ring=0, first=0, second=1),)),
    ],
)
def test_a_layout_of_another_problem_is_stale(changed: LayoutProblem) -> None:
    kept = parsed(kept_text())
    assert kept is not None
    assert proved_again(changed, kept["earring"]) is NotKept.STALE


def test_hints_are_no_part_of_the_key() -> None:
    assert problem_key(replace(PROBLEM, hints=(Hint(ring=0, place=(1.0, 0.0, 0.0)),))) == problem_key(PROBLEM)


def test_a_key_is_the_same_on_every_machine() -> None:
    assert problem_key(PROBLEM) == "82e2b76583ce152c1936994389e25f725ca0c161e9ac7bfdc3c6fdff72f3a58c"


def test_a_layout_that_was_tampered_with_is_refused_by_the_proof(tmp_path: Path) -> None:
    path = tmp_path / "lyra.layout"
    path.write_text(kept_text().replace("2.4000", "9.4000"))
    assert read_kept(path, {"earring": PROBLEM}) == {"earring": NotKept.NOT_PROVED}


def test_a_piece_that_the_file_does_not_have_is_missing(tmp_path: Path) -> None:
    path = tmp_path / "lyra.layout"
    path.write_text(kept_text())
    assert read_kept(path, {"necklace": PROBLEM}) == {"necklace": NotKept.MISSING}


def test_no_file_and_a_folder_are_told_apart(tmp_path: Path) -> None:
    assert read_kept(tmp_path / "none.layout", {"earring": PROBLEM}) == {"earring": NotKept.NO_FILE}
    assert read_kept(tmp_path, {"earring": PROBLEM}) == {"earring": NotKept.NOT_READABLE}


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("annulet layout 1", "annulet layout 2"),
        (" 2 rings", " 3 rings"),
        (" 2 rings", " 0 rings"),
        (" 2 rings", " 99999999 rings"),
        ("2.4000", "nan"),
        ("2.4000", "1e3"),
        ("2.4000", "99999999.0"),
        ("2.4000", "2"),
        ("1.0000000", "0.5000000"),
        ("0.0000 0.0000 0.0000 ", "0.0000 0.0000 "),
        ("rings\n", "rings\n\n"),
    ],
)
def test_anything_that_is_not_as_it_must_be_is_not_read(old: str, new: str) -> None:
    assert old in kept_text()
    assert parsed(kept_text().replace(old, new, 1)) is None


@pytest.mark.parametrize("text", ["", "annulet layout 1", kept_text().rstrip("\n"), kept_text() + "x\n"])
def test_a_file_that_is_cut_off_or_goes_on_is_not_read(text: str) -> None:
    assert parsed(text) is None


def test_two_entries_of_one_piece_are_not_read() -> None:
    key = problem_key(PROBLEM)
    assert parsed(written([("earring", key, LAYOUT), ("earring", key, LAYOUT)])) is None


def test_bytes_that_are_no_text_are_not_read(tmp_path: Path) -> None:
    path = tmp_path / "lyra.layout"
    path.write_bytes(b"annulet layout 1\n\xff\n")
    assert read_kept(path, {"earring": PROBLEM}) == {"earring": NotKept.NOT_READABLE}


APART = (CIRCLES[0], rounded_circle((9.0, 0.0, 0.0), (0.0, 1.0, 0.0), SIZE))
BAD = Layout(circles=APART, verdict=prove(PROBLEM, APART))


def test_what_is_not_proved_is_kept_as_not_found(tmp_path: Path) -> None:
    path = tmp_path / "lyra.layout"
    write_kept(path, {"earring": PROBLEM, "piece": PROBLEM}, {"earring": BAD, "piece": LAYOUT})
    assert read_kept(path, {"earring": PROBLEM, "piece": PROBLEM}) == {
        "earring": Sought(layout=BAD),
        "piece": LAYOUT,
    }


def test_another_search_or_another_problem_does_not_believe_that_none_was_found(tmp_path: Path) -> None:
    path = tmp_path / "lyra.layout"
    write_kept(path, {"earring": PROBLEM}, {"earring": BAD})
    assert read_kept(path, {"earring": replace(PROBLEM, pairs=())}) == {"earring": NotKept.STALE}
    path.write_text(path.read_text().replace("by search", "by search 9"))
    assert read_kept(path, {"earring": PROBLEM}) == {"earring": NotKept.NOT_READABLE}
    path.write_text(path.read_text().replace(f"by search 9 {SEARCH}", f"by search {SEARCH + 1}"))
    assert read_kept(path, {"earring": PROBLEM}) == {"earring": NotKept.SEARCHED_BEFORE}


def test_a_layout_that_proves_is_one_whatever_was_said_of_the_search(tmp_path: Path) -> None:
    path = tmp_path / "lyra.layout"
    path.write_text(kept_text().replace(" rings", " rings, not found by search 7"))
    assert read_kept(path, {"earring": PROBLEM}) == {"earring": LAYOUT}


def test_a_name_in_any_script_is_kept(tmp_path: Path) -> None:
    path = tmp_path / "lyra.layout"
    write_kept(path, {"brinco-ñ": PROBLEM}, {"brinco-ñ": LAYOUT})
    assert read_kept(path, {"brinco-ñ": PROBLEM}) == {"brinco-ñ": LAYOUT}


def test_a_folder_that_is_not_there_is_told_as_an_output_error(tmp_path: Path) -> None:
    with pytest.raises(OutputError):
        write_kept(tmp_path / "none" / "lyra.layout", {"earring": PROBLEM}, {"earring": LAYOUT})
