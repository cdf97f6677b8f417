"""The search under two kernels of BLAS, as two processors would have them: the verdicts must agree.

The kernel is chosen by an environment variable that OpenBLAS reads as it starts, so each runs in a process of its
own, which also says which kernel it was given. Where numpy is built with another BLAS there is nothing to choose,
and the test is skipped.
"""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
KERNELS = ("Prescott", "Haswell") if os.uname().machine in ("x86_64", "AMD64") else ("ARMV8", "NEOVERSEN1")
SCRIPT = """
import ctypes, glob, hashlib, json, os, sys
import numpy
sys.path[:0] = [{root!r}, {tests!r}]
import solver_graphs as graphs
from msgspec import json as encoded
from compiler.settle.search import settle

kernel = ""
folder = os.path.join(os.path.dirname(os.path.dirname(numpy.__file__)), "numpy.libs")
for file in sorted(glob.glob(os.path.join(folder, "*openblas*"))):
    library = ctypes.CDLL(file)
    for name in ("scipy_openblas_get_corename64_", "openblas_get_corename64_", "openblas_get_corename"):
        if hasattr(library, name):
            call = getattr(library, name)
            call.restype = ctypes.c_char_p
            kernel = call().decode()
            break
a = numpy.random.default_rng(1).standard_normal((200, 200))
product = hashlib.sha256((a @ a).tobytes()).hexdigest()
large, small, five = graphs.size(5, 0.9), graphs.size(3, 0.7), graphs.size(5, 1.0)
problems = [
    graphs.rhombus(3, 3, large, small),
    graphs.rows_sheet(5, 5, five, 2),
    graphs.tube(3, 14, graphs.size(5, 0.8), 2),
    graphs.eye_chain(10, graphs.size(6, 1), 2, 1),
    graphs.folded_chain(3, five, plain_pairs=1),
    graphs.rosette(5, graphs.size(6, 1)),
]
layouts = [settle(problem) for problem in problems]
print(json.dumps([
    kernel,
    product,
    [layout.verdict.proved for layout in layouts],
    [hashlib.sha256(encoded.encode(layout.circles)).hexdigest() for layout in layouts],
]))
"""


def under(kernel: str) -> tuple[str, str, list[bool], list[str]]:
    """The kernel that was given, a product of BLAS, and verdicts and places of some weaves."""
    script = SCRIPT.format(root=str(ROOT), tests=str(ROOT / "tests" / "compiler"))
    environment = {**os.environ, "OPENBLAS_CORETYPE": kernel}
    done = subprocess.run(
        [sys.executable, "-c", script], env=environment, capture_output=True, text=True, check=True
    )
    name, product, verdicts, places = json.loads(done.stdout)
    return name, product, verdicts, places


def test_the_verdicts_of_the_search_agree_under_two_kernels_of_blas() -> None:
    (one, one_product, one_verdicts, one_places), (other, other_product, other_verdicts, other_places) = (
        under(kernel) for kernel in KERNELS
    )
    if not one or one == other:
        pytest.skip(
            f"numpy gives no choice of kernels here: {one or 'no OpenBLAS'} and {other or 'no OpenBLAS'}"
        )
    assert one_verdicts == other_verdicts
    assert all(one_verdicts)
    # the kernels do differ; the search has its own arithmetic and does not notice
    if one_product != other_product:
        assert one_places == other_places
