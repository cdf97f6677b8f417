"""The limits: each is on the page of the notation with its number, and in no other number."""

import re
from pathlib import Path

import notation
from notation import limits

PAGE = Path(notation.__file__).with_name("reference.md").read_text("utf-8")
SECTION = " ".join(PAGE.split("## 13. Limits")[1].split("A piece of more than")[0].split())
SAID = {
    "LONGEST_FILE": "{:,} characters in a file",
    "DEEPEST_BLOCKS": "{:,} blocks within one another",
    "MOST_DIGITS": "{:,} digits in a number",
    "LARGEST_NUMBER": "{:,} as the value of a sum",
    "DEEPEST_SUMS": "{:,} brackets and operators within one another",
    "LONGEST_NAME": "{:,} characters in a name",
    "LONGEST_TEXT": "{:,} in a text",
    "MOST_DIAGNOSTICS": "{:,} diagnostics printed",
    "DEEPEST_IMPORTS": "{:,} files that use one another in a row",
    "MOST_IMPORTS": "and {:,} in all",
    "MOST_MEANINGS": "{:,} meanings of their kinds",
    "MOST_ROUNDS": "{:,} rounds",
    "MOST_STATEMENTS": "{:,} statements carried out",
    "MOST_MEMBERS": "{:,} members picked",
    "MOST_RINGS": "{:,} rings (a finding",
    "RINGS_FOR_FINDING": "(a finding counts for {:,})",
    "MOST_LINKS": "{:,} links",
    "MOST_PATH": "{:,} rings in one path",
    "MOST_COMPANIONS": "{:,} rings in one strand",
    "DEEPEST_UNITS": "{:,} units within one another",
    "MOST_MADE": "{:,} times that a piece is made",
    "MOST_FRAMES_SHOWN": "shows {:,} lines",
    "MOST_NAMES_COMPARED": "{:,} names are looked at",
}


def test_every_limit_is_on_the_page_with_its_number() -> None:
    values = {name: value for name, value in vars(limits).items() if name.isupper()}
    assert set(values) == set(SAID)
    for name, said in SAID.items():
        assert f" {said.format(values[name])}" in f" {SECTION}", name


def test_the_page_has_no_number_that_is_no_limit() -> None:
    assert len(re.findall(r"\d[\d,]*(?<!,)", SECTION)) == len(SAID)
