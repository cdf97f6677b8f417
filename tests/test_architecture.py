"""The shape of the code: who may import whom, how long a file may be, and nothing that names a machine.

Imports are read from the syntax tree, those inside functions and under TYPE_CHECKING too: that is where cycles
hide. A new module fails here until it has a line in the table.
"""

import ast
import re
import subprocess
import sys
from pathlib import Path

import networkx
import pytest

ROOT = Path(__file__).parent.parent
PACKAGES = ("notation", "grammar", "compiler")
FILES = sorted(path for package in PACKAGES for path in (ROOT / package).rglob("*.py"))
EVERY_FILE = [*FILES, *sorted((ROOT / "tests").rglob("*.py"))]

LONGEST_FILE = 400
GENERATED = {"notation/metals_table.py"}
"""Written by a program, and long because they are data."""

WRITTEN_FILES = [path for path in EVERY_FILE if path.relative_to(ROOT).as_posix() not in GENERATED]

PRINTED = ("compiler.booklet", "compiler.figure")
DATA = ("compiler.weave", "compiler.steps", "compiler.messages", "compiler.layout")
"""What stages meet in. A stage may import data, never another stage."""

# What a module, or every module of a package, may import of ours besides its own package; a package stands for
# all that is in it. Most specific line first.
MAY_IMPORT: dict[str, tuple[str, ...]] = {
    "notation": ("notation",),
    "grammar": ("notation",),
    # data and what is computed from it alone
    "compiler.weave": ("notation",),
    "compiler.messages": ("notation",),
    "compiler.steps": ("notation", "compiler.messages"),
    "compiler.layout": ("notation",),
    "compiler.timings": (),
    "compiler.geometry": ("compiler.layout",),
    **dict.fromkeys(("compiler.front", "compiler.closed"), ("compiler.geometry", "compiler.layout")),
    "compiler.posed": ("compiler.front", "compiler.geometry", "compiler.layout"),
    "compiler.surfaces": ("notation.statements", "compiler.layout", "compiler.weave"),
    "compiler.graph": ("notation", "compiler.weave"),
    "compiler.names": ("notation", "compiler.graph", "compiler.messages", "compiler.weave"),
    "compiler.counts": ("compiler.weave",),
    "compiler.loops": (),
    "compiler.facts": ("compiler.loops", "compiler.weave"),
    "compiler.beginning": ("notation.statements", "compiler.graph", "compiler.size", "compiler.weave"),
    "compiler.rolled": ("notation.statements", "compiler.beginning", "compiler.graph", "compiler.weave"),
    # the flat drawing of a whole, to the measures of its proved beginning
    "compiler.outline": ("compiler.beginning", "compiler.flat", "compiler.geometry", "compiler.size", *DATA),
    # files
    "compiler.infile": ("notation",),
    "compiler.loader": ("notation", "grammar", "compiler.infile"),
    "compiler.outfile": (),
    "compiler.workers": (),
    "compiler.yamlread": ("notation",),
    "compiler.stock_file": ("notation", "compiler.measures", "compiler.stock", "compiler.yamlread"),
    "compiler.metals_file": ("notation", "compiler.yamlread"),
    "compiler.ownfiles": (
        "notation",
        *("compiler.console", "compiler.infile", "compiler.report", "compiler.yamlread"),
    ),
    "compiler.measures": ("notation.lengths",),
    "compiler.changes": ("notation",),
    "compiler.overrides": (
        "notation",
        *("compiler.changes", "compiler.infile", "compiler.measures", "compiler.variants"),
    ),
    "compiler.stock": ("notation", "compiler.measures", "compiler.yamlread"),
    # stages
    "compiler.expand": ("notation", "compiler.weave"),
    "compiler.check": ("notation", "compiler.geometry", "compiler.graph", "compiler.counts", *DATA),
    "compiler.kit": ("notation", "compiler.weave"),
    "compiler.tolength": (),
    "compiler.variants": ("notation",),
    "compiler.cutting": ("compiler.kit",),
    "compiler.price": ("notation", "compiler.cutting", "compiler.kit", "compiler.stock", "compiler.weave"),
    "compiler.packing": (
        "notation",
        "compiler.booklet",
        "compiler.catalogue",
        "compiler.price",
        "compiler.weave",
    ),
    "compiler.housestyle": (
        *("notation.source", "compiler.booklet", "compiler.infile", "compiler.kit"),
        *("compiler.measures", "compiler.style", "compiler.yamlread"),
    ),
    "compiler.style": ("compiler.booklet", "compiler.kit"),
    "compiler.housefile": (
        "compiler.booklet.fonts",
        "compiler.console",
        "compiler.housestyle",
        "compiler.ownfiles",
        "compiler.report",
        "compiler.style",
    ),
    "compiler.kitlist": (
        "notation.lengths",
        "compiler.catalogue.kit_english",
        "compiler.cutting",
        "compiler.price",
        "compiler.report",
        "compiler.weave",
    ),
    # the text for a terminal is words and sentences put together
    "compiler.word.plain": ("compiler.catalogue", "compiler.steps"),
    "compiler.word": ("notation", "compiler.graph", "compiler.names", *DATA),
    # a catalogue names the words of the booklet's parts, so it sees their data
    "compiler.catalogue": (
        "notation",
        "compiler.booklet.content",
        "compiler.booklet.figuretypes",
        "compiler.kit",
        *DATA,
    ),
    # the search asks the proof for its verdict, and the proof knows nothing of the search
    "compiler.settle": ("compiler.geometry", "compiler.graph", "compiler.loops", "compiler.prove", *DATA),
    "compiler.same": ("notation", "compiler.graph", *DATA),
    "compiler.flat": ("notation", "compiler.geometry", "compiler.graph", *DATA),
    "compiler.prove": (
        *("compiler.closed", "compiler.front", "compiler.geometry", "compiler.layout", "compiler.posed"),
    ),
    # a schematic figure is drawn from the flat places, without a search in space
    "compiler.figure": (
        "notation",
        *("compiler.beginning", "compiler.flat", "compiler.front", "compiler.posed", "compiler.surfaces"),
        *("compiler.geometry", "compiler.rolled"),
        *("compiler.graph", "compiler.names", "compiler.catalogue"),
        "compiler.booklet.figuretypes",
        "compiler.booklet.page",
        "compiler.booklet.style",
        "compiler.booklet.text",
        "compiler.booklet.fonts",
        "compiler.booklet.paths",
        "compiler.booklet.marks",
        "compiler.booklet.findingshapes",
        "compiler.booklet.content",
        *DATA,
    ),
    "compiler.booklet": (
        "notation",
        "compiler.geometry",
        "compiler.graph",
        "compiler.kit",
        "compiler.catalogue",
        *DATA,
    ),
    "compiler.export": (
        *("compiler.beginning", "compiler.graph", "compiler.counts", "compiler.facts", "compiler.size"),
        *DATA,
    ),
    "compiler.size": ("notation.statements", "compiler.geometry", "compiler.graph", *DATA),
    "compiler.report": ("notation",),
    # drivers: they call the stages, one after another
    "compiler.madetolength": (
        "notation",
        "compiler.changes",
        "compiler.expand.driver",
        "compiler.geometry",
        "compiler.kept",
        "compiler.overrides",
        "compiler.problem",
        "compiler.size",
        "compiler.tolength",
        *DATA,
    ),
    "compiler.pipeline": (
        "notation",
        "compiler.madetolength",
        "compiler.variants",
        "compiler.infile",
        "compiler.changes",
        "compiler.overrides",
        "compiler.loader",
        "compiler.expand",
        "compiler.check",
        "compiler.report",
        "compiler.timings",
        *DATA,
    ),
    "compiler.build": (
        "compiler.word.words",
        *PRINTED,
        "compiler.beginning",
        "compiler.rolled",
        "compiler.outline",
        "compiler.pipeline",
        "compiler.proved",
        "compiler.remembered",
        "compiler.size",
        "notation.diagnostic",
        "compiler.timings",
        *DATA,
    ),
    "compiler.remembered": (*PRINTED, "compiler.infile", "compiler.outfile", *DATA),
    # a folder of patterns, read as a whole, and its pages
    "compiler.library": (
        "notation",
        "compiler.booklet",
        "compiler.build",
        "compiler.catalogue",
        "compiler.figure.small_svg",
        "compiler.infile",
        "compiler.kept",
        "compiler.pipeline",
        "compiler.proved",
        "compiler.settle.search",
        "compiler.timings",
        *DATA,
    ),
    # what is known of the geometry: read from files, searched for, asked of it
    "compiler.hints": ("compiler.flat", *DATA),
    "compiler.problem": ("compiler.flat.sizes", "compiler.loops", "compiler.surfaces", *DATA),
    "compiler.kept": ("compiler.infile", "compiler.layout", "compiler.outfile", "compiler.prove"),
    "compiler.proved": (
        "notation.diagnostic",
        "compiler.beginning",
        "compiler.rolled",
        "compiler.check.collect",
        "compiler.kept",
        "compiler.problem",
        "compiler.report",
        "compiler.timings",
        *DATA,
    ),
    "compiler.sheetsides": ("notation.statements", "compiler.geometry", "compiler.graph", *DATA),
    "compiler.settling": (
        "notation.diagnostic",
        *("compiler.beginning", "compiler.rolled", "compiler.sheetsides"),
        "compiler.changes",
        "compiler.size",
        "compiler.tolength",
        "compiler.console",
        "compiler.hints",
        "compiler.report",
        "compiler.graph",
        "compiler.problem",
        "compiler.prove",
        "compiler.proved",
        "compiler.settle.search",
        "compiler.timings",
        *DATA,
    ),
    "compiler.fit": (
        "compiler.check.adjacency",
        "compiler.geometry",
        "compiler.hints",
        "compiler.proved",
        "compiler.settle.search",
        "compiler.stock_file",
        *DATA,
    ),
    "compiler.console": ("notation", "compiler.outfile", "compiler.report"),
    "compiler.commands": PACKAGES,
    "compiler.cli": tuple(
        f"compiler.{name}" for name in ("console", "infile", "outfile", "report", "timings")
    ),
    "compiler.__main__": ("compiler.cli",),
}

# Libraries from outside, and the only modules that may import them.
OUTSIDE = {
    "msgspec": ("notation", "grammar", "compiler"),
    "lark": ("grammar.build",),
    "yaml": ("compiler.yamlread", "notation.metals"),
    "numpy": ("compiler.settle", "compiler.flat", "compiler.figure"),
    "reportlab": (
        "compiler.booklet.fonts",
        "compiler.booklet.isolation",
        "compiler.booklet.pictures",
        "compiler.booklet.typeset",
    ),
    "pypdfium2": ("compiler.commands.figure",),
    "fontpkg_fira_sans": ("compiler.booklet.fonts",),
}


def module_name(path: Path) -> str:
    name = ".".join(path.relative_to(ROOT).with_suffix("").parts)
    return name.removesuffix(".__init__")


MODULES = {module_name(path): path for path in FILES}


def imported(path: Path) -> list[str]:
    """Every module that a file imports anywhere in it; `from package import module` counts as the module."""
    found = []
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            found.extend(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: relative import"
            assert node.module is not None
            inner = [f"{node.module}.{alias.name}" for alias in node.names]
            found.extend(name if name in MODULES else node.module for name in inner)
    return found


def within(module: str, package: str) -> bool:
    return module == package or module.startswith(f"{package}.")


def allowed(module: str) -> tuple[str, ...]:
    lines = [line for line in MAY_IMPORT if within(module, line)]
    assert lines, f"{module} has no line in the table of imports"
    line = max(lines, key=len)
    own = line if line in ("notation", "grammar") or (ROOT / line.replace(".", "/")).is_dir() else module
    return (*MAY_IMPORT[line], own)


@pytest.mark.parametrize("module", sorted(MODULES))
def test_imports_run_one_way(module: str) -> None:
    if MODULES[module].name == "__init__.py":
        assert imported(MODULES[module]) == []
        return
    ours = [name for name in imported(MODULES[module]) if name.split(".")[0] in PACKAGES]
    wrong = [name for name in ours if not any(within(name, line) for line in allowed(module))]
    assert wrong == []


@pytest.mark.parametrize("module", sorted(MODULES))
def test_libraries_are_imported_where_they_belong(module: str) -> None:
    outside = {
        name.split(".")[0]
        for name in imported(MODULES[module])
        if name.split(".")[0] not in PACKAGES and name.split(".")[0] not in sys.stdlib_module_names
    }
    for library in sorted(outside):
        assert library in OUTSIDE, f"{module} imports {library}, which has no line in the table"
        assert any(within(module, line) for line in OUTSIDE[library]), f"{module} imports {library}"


def test_no_module_imports_itself_by_a_detour() -> None:
    graph = networkx.DiGraph()
    for module, path in MODULES.items():
        graph.add_edges_from((module, name) for name in imported(path) if name in MODULES)
    assert [sorted(part) for part in networkx.strongly_connected_components(graph) if len(part) > 1] == []
    assert list(networkx.selfloop_edges(graph)) == []


def test_every_line_of_the_table_is_about_a_module() -> None:
    for line in MAY_IMPORT:
        assert line in MODULES, line
    for lines in OUTSIDE.values():
        for line in lines:
            assert line in MODULES, line


@pytest.mark.parametrize("path", WRITTEN_FILES, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_files_are_short(path: Path) -> None:
    assert len(path.read_text("utf-8").splitlines()) <= LONGEST_FILE


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_every_module_says_what_it_is(path: Path) -> None:
    assert ast.get_docstring(ast.parse(path.read_text("utf-8")))


TEXT_SUFFIXES = {".py", ".md", ".annulet", ".toml", ".yaml", ".yml", ".json", ".lark", ".txt"}
# Put together here, so that this file does not name what it looks for.
MACHINE_PATH = re.compile(
    "|".join(f"(?<![\\w.])/{folder}/" for folder in ("work", "root", "home", "Users", "tmp"))
)


def test_nothing_names_a_machine() -> None:
    listed = subprocess.run(
        ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=False
    ).stdout.split("\0")
    files = [ROOT / name for name in listed if Path(name).suffix in TEXT_SUFFIXES]
    assert files, "this test reads the files that git knows"
    named = [path for path in files if path.exists() and MACHINE_PATH.search(path.read_text("utf-8"))]
    assert named == []


@pytest.mark.parametrize("command", ["check", "format"])
def test_check_and_format_wait_for_no_geometry_and_no_fonts(command: str) -> None:
    run = (
        "import sys\n"
        f"sys.argv = ['annulet', '{command}', '-']\n"
        "from compiler.cli import main\n"
        "main()\n"
        "slow = [m for m in ('numpy', 'reportlab', 'yaml', 'pikepdf', 'lark') if m in sys.modules]\n"
        "sys.exit(f'{slow}' if slow else 0)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", run],
        cwd=ROOT,
        input='title "x"\n',
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, done.stderr[-300:] if done.returncode else "") == (0, "")
