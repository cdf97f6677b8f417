"""A weave that was made up, taken through the stages after its expansion, for tests: check, words, export."""

from __future__ import annotations

import json
from collections import Counter

from slow_check import disagreements

from compiler.check.run import check
from compiler.commands.export import step_texts
from compiler.export import export
from compiler.report import as_json, as_text, tally
from compiler.weave import Weave
from compiler.word.words import word
from notation.diagnostic import Diagnostic
from notation.source import Source


def taken_on(weave: Weave, told: tuple[Diagnostic, ...], sources: dict[str, Source]) -> bool:
    """Whether the weave has no errors and so was worded and exported; every law of those stages is asserted."""
    report = (*told, *check(weave))
    assert as_text(report, sources) or not report
    assert len(json.loads(as_json(report, sources, ["made up"]))["diagnostics"]) <= len(report)
    if not weave.complete:
        return False
    assert disagreements(weave, report) == []
    if tally(report).errors:
        return False
    texts = [step_texts(piece) for piece in word(weave).pieces]
    written = json.loads("".join(export(weave, texts)))
    for piece, said in zip(weave.pieces, written["pieces"], strict=True):
        rings = [weave.ring_kinds[kind].name for kind in piece.kind if kind >= 0]
        assert Counter(ring["kind"] for ring in said["rings"]) == Counter(rings)
        assert len(said["links"]) == len(piece.link_a)
        assert [step["text"] for step in said["steps"]] == [
            text.text for text in texts[written["pieces"].index(said)]
        ]
    return True
