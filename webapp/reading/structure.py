"""From pieces to a tree: brackets within brackets and how often each is said, by a grammar.

The grammar is in ``structure.lark``; its tokens are the pieces of :mod:`webapp.reading.bodies`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from lark import Lark, Token, Transformer, UnexpectedInput, v_args
from lark.lexer import Lexer

from webapp.reading.model import Span
from webapp.reading.nodes import Act, Fill, Group, Node
from webapp.reading.pieces import Times

DEEPEST = 12
"""Brackets within brackets: nobody writes more than three, and nobody could follow more."""


@dataclass(frozen=True)
class Terminal:
    """A token for the grammar: its kind, what it stands for, its place."""

    kind: str
    value: Node | Times | None
    span: Span


class UnbalancedError(Exception):
    """A bracket is never closed, or was never opened, said in words."""


class _Tokens(Lexer):
    """Hands the pieces to the parser; there is no text left to cut."""

    def __init__(self, conf: Any) -> None:
        del conf

    def lex(self, lexer_state: Any, parser_state: Any = None) -> Iterator[Token]:
        del parser_state
        for terminal in lexer_state:
            yield Token(terminal.kind, terminal)


@v_args(inline=True)
class _Tree(Transformer[Token, tuple[Node, ...]]):
    """Builds the nodes as the grammar finds them."""

    def row(self, *items: Node) -> tuple[Node, ...]:
        return items

    def said(self, act: Token, times: Token | None) -> Node:
        node = _piece(act).value
        assert isinstance(node, Act | Fill | Group)
        if times is None:
            return node
        said = _piece(times).value
        assert isinstance(said, Times)
        span = Span(node.span.start, said.span.end)
        if isinstance(node, Fill) and said.number is None:
            return replace(node, span=span)
        return Group((node,), (said.number or 0,), span)

    def bracket(
        self, left: Token, row: tuple[Node, ...], right: Token, times: Token | None
    ) -> Node:
        span = Span(_piece(left).span.start, _piece(right).span.end)
        if times is None:
            return Group(row, (1, 0), span, "bare bracket")
        said = _piece(times).value
        assert isinstance(said, Times)
        span = Span(span.start, said.span.end)
        if said.number is None:
            return Group(row, (0,), span)
        if said.more:
            return Group(row, (said.number + 1,), span)
        if said.star and said.rep:
            # The textbook's "rep from * 3 times" is four in all; many mean three.
            return Group(row, (said.number + 1, said.number), span, "repeat from star")
        if said.rep:
            return Group(row, (said.number, said.number + 1), span, "repeat")
        return Group(row, (said.number,), span)


def _piece(token: Token) -> Terminal:
    value: Any = token.value
    assert isinstance(value, Terminal)
    return value


_PARSER = Lark(
    (Path(__file__).parent / "structure.lark").read_text(encoding="utf-8"),
    parser="lalr",
    lexer=_Tokens,
    start="row",
    transformer=_Tree(),
    maybe_placeholders=True,
)


def tree(tokens: Sequence[Terminal]) -> tuple[Node, ...]:
    """The nodes of a row of tokens. Raises :class:`UnbalancedError`."""
    depth = 0
    for token in tokens:
        depth += {"L": 1, "R": -1}.get(token.kind[0], 0)
        if depth > DEEPEST:
            raise UnbalancedError(f"more than {DEEPEST} brackets within each other")
    try:
        nodes: Any = _PARSER.parse(tokens)
    except UnexpectedInput as error:
        raise _unbalanced(error) from None
    return _opened(tuple(nodes))


def _opened(nodes: tuple[Node, ...]) -> tuple[Node, ...]:
    """`(2 sc in next st, 1 sc in each st to the end)`: a bracket round all of it says nothing."""
    first = nodes[0] if len(nodes) == 1 else None
    if not isinstance(first, Group) or first.flag != "bare bracket":
        return nodes
    return first.items if any(isinstance(node, Fill) for node in first.items) else nodes


def _unbalanced(error: UnexpectedInput) -> UnbalancedError:
    found: Any = getattr(error, "token", None)
    if isinstance(found, Token) and isinstance(found.value, Terminal):
        if found.value.kind[0] == "R":
            return UnbalancedError("a bracket is closed that was never opened")
        return UnbalancedError("it does not say what is done so many times")
    return UnbalancedError("a bracket is opened and never closed")
