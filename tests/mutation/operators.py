"""Mutants of a module: its syntax tree with one thing other than it was.

Comes in: the text of a module. Goes out: every mutant of it, as a place and a change; and the tree of one of them.

Left alone are what no test of behaviour can tell: annotations, docstrings, prose (a string with a space in it), the
headers of classes and decorators, the text of messages of internal errors (`raise X("...")`), and the order of the
two arguments of `min`, `max`, `dist`, `gcd` and `hypot`, which is none.
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterator
from dataclasses import dataclass

OTHER: dict[type[ast.AST], type[ast.AST]] = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
    ast.And: ast.Or,
    ast.Or: ast.And,
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.FloorDiv,
    ast.FloorDiv: ast.Mult,
    ast.Div: ast.Mult,
    ast.Mod: ast.FloorDiv,
    ast.Pow: ast.Mult,
    ast.BitOr: ast.BitAnd,
    ast.BitAnd: ast.BitOr,
    ast.BitXor: ast.BitAnd,
    ast.LShift: ast.RShift,
    ast.RShift: ast.LShift,
}
"""What an operator becomes. Comparisons move by a boundary or to their opposite."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """One change at one place."""

    number: int
    """Which node of the tree, counted as `ast.walk` goes."""
    change: str
    """Which change, one of those that its kind of node knows."""
    line: int
    """Where the node begins, from 1."""
    run: tuple[int, int]
    """First and last line of the statement it stands in; of a statement with a body, its header."""
    function: str | None
    """The outermost function it stands in, `name` or `Class.name`; none for what runs at the import."""
    shown: str
    """What stood there, for a reader."""

    def __str__(self) -> str:
        return f"{self.line}: {self.change}: {self.shown}"


_LEFT_ALONE = (ast.Import, ast.ImportFrom, ast.Global, ast.Nonlocal)


def sites(text: str) -> tuple[Site, ...]:
    """Every mutant of a module, in the order of its text."""
    tree = ast.parse(text)
    number_of = {id(node): number for number, node in enumerate(ast.walk(tree))}
    found = [
        Site(
            number=number_of[id(node)],
            change=change,
            line=node.lineno,
            run=run,
            function=function,
            shown=ast.unparse(node).split("\n")[0][:90],
        )
        for node, function, run in _nodes(tree, None, "", (1, 1))
        for change in _changes(node)
    ]
    return tuple(sorted(found, key=lambda site: (site.line, site.number, site.change)))


def mutated(text: str, site: Site) -> ast.Module:
    """The tree of a module with a change made in it."""
    tree = ast.parse(text)
    node = next(node for number, node in enumerate(ast.walk(tree)) if number == site.number)
    changed = _CHANGES[site.change](node)
    if changed is not node:
        _replace(tree, node, ast.copy_location(changed, node))
    return ast.fix_missing_locations(tree)


def _nodes(
    node: ast.AST, function: str | None, prefix: str, run: tuple[int, int]
) -> Iterator[tuple[ast.expr | ast.stmt, str | None, tuple[int, int]]]:
    """The nodes that may be changed, with the outermost function of each and the lines of its statement."""
    if isinstance(node, _LEFT_ALONE) or (
        isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test)
    ):
        return
    if isinstance(node, ast.stmt | ast.match_case):
        run = _lines(node, run)
    if isinstance(node, ast.expr | ast.stmt):
        yield node, function, run
    match node:
        case ast.FunctionDef(args=args, body=body):
            for default in (*args.defaults, *filter(None, args.kw_defaults)):
                yield from _nodes(default, function, prefix, run)
            children: list[ast.AST] = list(body)
            function = function or f"{prefix}{node.name}"
        case ast.ClassDef(body=body):
            children = list(body)
            prefix = f"{prefix}{node.name}."
        case ast.AnnAssign(value=value):
            children = [value] if value is not None else []
        case ast.Raise():
            children = []  # that it is raised is changed as a whole statement, its words are not
        case ast.JoinedStr(values=values):
            children = [part.value for part in values if isinstance(part, ast.FormattedValue)]
        case _:
            children = list(ast.iter_child_nodes(node))
    for child in children:
        if not _is_prose(child):
            yield from _nodes(child, function, prefix, run)


def _lines(node: ast.stmt | ast.match_case, outer: tuple[int, int]) -> tuple[int, int]:
    first = node.lineno if isinstance(node, ast.stmt) else node.pattern.lineno
    body = [part for part in ast.iter_child_nodes(node) if isinstance(part, ast.stmt)]
    if isinstance(node, ast.Match):
        return first, node.subject.end_lineno or first
    if body:
        return first, max(first, min(part.lineno for part in body) - 1)
    return first, (node.end_lineno or first) if isinstance(node, ast.stmt) else outer[1]


def _is_prose(node: ast.AST) -> bool:
    return isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)


def _changes(node: ast.expr | ast.stmt) -> Iterator[str]:
    """The changes that a node may undergo."""
    match node:
        case ast.Compare() | ast.BoolOp() | ast.BinOp() | ast.AugAssign():
            if not _is_type(node):
                yield "operator"
            if isinstance(node, ast.AugAssign):
                yield "statement deleted"
        case ast.UnaryOp(op=ast.Not() | ast.USub()):
            yield "sign dropped"
        case ast.Constant(value=bool()):
            yield "truth"
        case ast.Constant(value=int() | float()):
            yield "number + 1"
        case ast.Constant(value=str(text)) if " " not in text.strip(" "):
            yield "string"
        case ast.Return(value=value) if value is not None and not _is_none(value):
            yield "returns None"
        case ast.Expr(value=ast.Call() | ast.Yield() | ast.YieldFrom()) | ast.Raise() | ast.Delete():
            yield "statement deleted"
        case ast.Assign(value=ast.Constant(value=None)):
            return
        case ast.Assign():
            yield "assigned None"
        case ast.If() | ast.While() | ast.IfExp():
            yield "condition negated"
        case ast.Break():
            yield "break for continue"
        case ast.Continue():
            yield "continue for break"
        case ast.comprehension():
            return
        case ast.ListComp(generators=made) | ast.SetComp(generators=made) | ast.GeneratorExp(generators=made):
            if any(part.ifs for part in made):
                yield "filter dropped"
        case ast.DictComp(generators=made) if any(part.ifs for part in made):
            yield "filter dropped"
        case ast.Call(args=[first, second, *_]) if not isinstance(first, ast.Starred | ast.GeneratorExp):
            if not isinstance(second, ast.Starred) and not _is_type_test(node) and not _is_symmetric(node):
                yield "arguments swapped"
        case ast.Subscript(slice=ast.Slice(), ctx=ast.Load()):
            yield "slice dropped"
        case _:
            return


def _is_type(node: ast.AST) -> bool:
    """A union of types, `int | None`."""
    return (
        isinstance(node, ast.BinOp)
        and isinstance(node.op, ast.BitOr)
        and any(
            _is_none(side) or (isinstance(side, ast.Name) and side.id[0].isupper())
            for side in (node.left, node.right)
        )
    )


def _is_none(node: ast.AST) -> bool:
    return isinstance(node, ast.Constant) and node.value is None


def _is_type_test(node: ast.Call) -> bool:
    return isinstance(node.func, ast.Name) and node.func.id in (
        "isinstance",
        "issubclass",
        "cast",
        "NewType",
        "TypeVar",
    )


def _is_symmetric(node: ast.Call) -> bool:
    """A call of which two arguments may change places and it is the same program."""
    name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
    return len(node.args) == 2 and not node.keywords and name in ("min", "max", "dist", "gcd", "hypot")


def _operator(node: ast.AST) -> ast.AST:
    if isinstance(node, ast.Compare):
        node.ops[0] = OTHER[type(node.ops[0])]()  # type: ignore[assignment]
    elif isinstance(node, ast.BoolOp | ast.BinOp | ast.AugAssign):
        node.op = OTHER[type(node.op)]()  # type: ignore[assignment]
    return node


def _not(node: ast.AST) -> ast.AST:
    assert isinstance(node, ast.If | ast.While | ast.IfExp)
    node.test = ast.UnaryOp(op=ast.Not(), operand=node.test)
    return node


def _constant(change: Callable[[object], object]) -> Callable[[ast.AST], ast.AST]:
    def changed(node: ast.AST) -> ast.AST:
        assert isinstance(node, ast.Constant)
        node.value = change(node.value)  # type: ignore[assignment]
        return node

    return changed


def _none_for_value(node: ast.AST) -> ast.AST:
    assert isinstance(node, ast.Return | ast.Assign)
    node.value = ast.Constant(value=None)
    return node


def _unfiltered(node: ast.AST) -> ast.AST:
    assert isinstance(node, ast.ListComp | ast.SetComp | ast.GeneratorExp | ast.DictComp)
    for part in node.generators:
        part.ifs = []
    return node


def _swapped(node: ast.AST) -> ast.AST:
    assert isinstance(node, ast.Call)
    node.args[0], node.args[1] = node.args[1], node.args[0]
    return node


def _operand(node: ast.AST) -> ast.AST:
    assert isinstance(node, ast.UnaryOp)
    return node.operand


def _whole(node: ast.AST) -> ast.AST:
    assert isinstance(node, ast.Subscript)
    return node.value


_CHANGES: dict[str, Callable[[ast.AST], ast.AST]] = {
    "operator": _operator,
    "sign dropped": _operand,
    "truth": _constant(lambda value: not value),
    "number + 1": _constant(lambda value: value + 1),  # type: ignore[operator]
    "string": _constant(lambda value: f"{value}~"),
    "returns None": _none_for_value,
    "assigned None": _none_for_value,
    "statement deleted": lambda _: ast.Pass(),
    "condition negated": _not,
    "break for continue": lambda _: ast.Continue(),
    "continue for break": lambda _: ast.Break(),
    "filter dropped": _unfiltered,
    "arguments swapped": _swapped,
    "slice dropped": _whole,
}


def _replace(tree: ast.AST, old: ast.AST, new: ast.AST) -> None:
    for parent in ast.walk(tree):
        for name, value in ast.iter_fields(parent):
            if value is old:
                setattr(parent, name, new)
            elif isinstance(value, list):
                for index, one in enumerate(value):
                    if one is old:
                        value[index] = new
