"""The page about diagnostics shows what the report really says."""

import json
import re
from pathlib import Path

import notation
from compiler.pipeline import checked
from compiler.report import as_json
from compiler.timings import Timings

PAGE = Path(notation.__file__).with_name("diagnostics.md").read_text("utf-8")
PATTERN = """\
title "Lyra"

ring link: inner 5 mm, wire 1 mm, metal copper

kit: 6 link

piece earring made 2 times:
    line chain of 4:
        pass 1 link through the one before
"""


def test_the_example_of_the_page_is_a_real_report(tmp_path: Path) -> None:
    found = re.search(r"```json\n(.*?)```", PAGE, re.DOTALL)
    assert found is not None
    path = tmp_path / "lyra.annulet"
    path.write_text(PATTERN, "utf-8")
    result = checked(str(path), None, Timings())
    report = as_json(result.diagnostics, result.loaded.sources, [str(path)])
    assert json.loads(report.replace(path.as_posix(), "lyra.annulet")) == json.loads(found[1])


def test_every_field_is_on_the_page() -> None:
    found = re.search(r"```json\n(.*?)```", PAGE, re.DOTALL)
    assert found is not None
    document = json.loads(found[1])
    tables = PAGE.split("```")[2]
    for field in (*document, *document["diagnostics"][0]):
        assert f"`{field}`" in tables
