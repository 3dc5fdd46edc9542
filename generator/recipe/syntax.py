"""What is wrong with a line that no YAML reader understands, for someone new to YAML.

Each explanation looks at the reader's complaint and at the lines themselves; the first that fits is
given. Readers word their complaints differently, so only words that all of them use are relied on.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from generator.findings import Finding
from generator.recipe.quotation import after_quote, backslash, open_quote, quote_above
from generator.recipe.trouble import Spot, Trouble

_SIGNS = {"`": "a backtick"}
_QUOTES = 'put the whole text in quotes: `key: "text"`'
_NO_SPACE = re.compile(r"^\s*(?:- )?[a-z][a-z-]*:(?=[^\s:/])")
_SPACED_TERMINAL = re.compile(r"\b([A-Z]{1,2}[0-9]{1,3}): +([A-Za-z0-9-]+)")
_CURLY = re.compile("[\u2018-\u201f]")
_KEY = re.compile(r"^\s*(?:- )?[^\s\"'{\[:]+:\s")


def explained(trouble: Trouble) -> Finding:
    """Return the complaint in plain words, at the spot that must be mended."""
    for explanation in _EXPLANATIONS:
        finding = explanation(trouble)
        if finding:
            return finding
    return trouble.said(trouble.at, "This line cannot be read.", trouble.problem,
                        "`key: value`, indented with spaces like the lines around it")


def _quoted(text: str) -> str:
    short = text.strip()
    short = short if len(short) <= 40 else short[:37] + "..."
    return short if "`" in short else f"`{short}`"


def _tab(trouble: Trouble) -> Finding | None:
    if "\t" not in (trouble.sign(trouble.at), trouble.text(trouble.at)[:1]):
        return None
    message = ("A tab stands here." if trouble.before().strip()
               else "This line is indented with a tab.")
    return trouble.said(trouble.at, message, "a tab", "spaces", "replace each tab by two spaces")


def _in_brackets(trouble: Trouble) -> Finding | None:
    if "flow" not in trouble.context:
        return None
    opening, sign = trouble.sign(trouble.began), trouble.sign(trouble.at)
    closing = {"{": "}", "[": "]"}.get(opening, "")
    if trouble.at.line == trouble.began.line and sign == ":":
        return _second_colon(trouble)
    if trouble.at.line == trouble.began.line and trouble.before().rstrip()[-1:] in ("'", '"'):
        return after_quote(trouble)
    if sign and sign in "}]" and sign != closing:
        return trouble.said(trouble.at, f"`{sign}` cannot close what `{opening}` opened.",
                            f"`{sign}`", f"`{closing}`")
    return trouble.said(trouble.began, f"This `{opening}` is never closed.",
                        f"`{opening}` without its end", f"`{closing}` at the end of the line")


def _second_colon(trouble: Trouble) -> Finding:
    for found in _SPACED_TERMINAL.finditer(trouble.text(trouble.at)):
        if found.end(1) == trouble.at.column:
            return trouble.said(Spot(trouble.at.line, found.start()),
                         "A space stands inside this terminal.", f"`{found[0]}`",
                         f"`{found[1]}:{found[2]}`", "take the space out")
    if _CURLY.search(trouble.text(trouble.at)):
        return trouble.said(trouble.at, "A second colon stands in this text.",
                            "curly quotation marks, which quote nothing here", "a text in quotes",
                            'write straight quotation marks: `"text"`')
    return trouble.said(trouble.at, "A second colon stands in this text.",
                        "a colon and a space inside a text", "a text in quotes", _QUOTES)


def _missing_space(trouble: Trouble) -> Finding | None:
    if not any(word in trouble.problem for word in ("mapping values", "':'")):
        return None
    for line in (trouble.line_above().line, trouble.began.line):
        found = _NO_SPACE.match(trouble.text(Spot(line, 0)))
        if found:
            return trouble.said(Spot(line, found.end()),
                         "A space is missing after the colon.",
                         _quoted(trouble.lines[line]), "`key: value`")
    return None


def _colon(trouble: Trouble) -> Finding | None:
    if "mapping values" not in trouble.problem:
        return None
    if _KEY.match(trouble.before()):
        return _second_colon(trouble)
    above = trouble.line_above()
    if ":" not in trouble.text(above) and not trouble.text(above).lstrip().startswith("- "):
        return _no_colon(trouble, above)
    return _indentation(trouble)


def _simple_key(trouble: Trouble) -> Finding | None:
    if "simple key" not in trouble.context:
        return None
    return _no_colon(trouble, trouble.start(trouble.began.line))


def _no_colon(trouble: Trouble, spot: Spot) -> Finding:
    return trouble.said(spot, "This line has no colon.",
                        _quoted(trouble.text(spot)), "`key: value`",
                        "a text that goes on from the line above is indented further than its key")


def _indentation(trouble: Trouble) -> Finding:
    start = trouble.start(trouble.at.line)
    return trouble.said(
        start, "This line is not indented like the lines it belongs to.",
        f"{start.column} spaces before it", "the same number as the lines beside it",
        "count the spaces: what belongs together begins in the same column")


def _in_block(trouble: Trouble) -> Finding | None:
    if "block mapping" not in trouble.context and "block collection" not in trouble.context:
        return None
    sign = trouble.sign(trouble.at)
    if trouble.before().rstrip()[-1:] in ("'", '"'):
        return after_quote(trouble)
    if sign and sign in "}]":
        return trouble.said(trouble.at, f"This `{sign}` was never opened.", f"`{sign}`",
                            "as many closing as opening brackets")
    if trouble.before().strip():
        return trouble.said(trouble.at, "This cannot follow here.",
                            _quoted(trouble.text(trouble.at)[trouble.at.column :]),
                            "nothing more on this line", _QUOTES)
    if trouble.at.column != trouble.began.column:
        return _indentation(trouble)
    return _hyphens_and_keys(trouble, sign)


def _hyphens_and_keys(trouble: Trouble, sign: str) -> Finding:
    if sign == "-":
        return trouble.said(trouble.at, "A hyphen stands among lines with keys.", "`- `",
                            "`key: value`, or hyphens before all of them")
    if sign == ":":
        return trouble.said(trouble.at, "No key stands before this colon.", "`:`",
                            "`key: value`")
    return trouble.said(trouble.at, "A line without a hyphen stands among list entries.",
                        _quoted(trouble.text(trouble.at)), "`- ` before each entry")


def _list_on_key_line(trouble: Trouble) -> Finding | None:
    if "sequence entries" not in trouble.problem:
        return None
    return trouble.said(trouble.at, "A list begins on a line of its own.",
                        "a hyphen on the line of its key",
                        "each entry on its own line, after `- `",
                        "a text that begins with a hyphen stands in quotes")


def _beneath_block_text(trouble: Trouble) -> Finding | None:
    if "block scalar" not in trouble.context:
        return None
    return trouble.said(trouble.at, "Text stands right behind `>` or `|`.",
                        _quoted(trouble.text(trouble.at)[trouble.at.column :]),
                        "the text on the next lines, indented", _QUOTES)


def _first_sign(trouble: Trouble) -> Finding | None:
    """An alias, an anchor, a tag or a sign that YAML keeps for itself."""
    spot = trouble.at if "token" in trouble.context or "block node" in trouble.context \
        or "flow node" in trouble.context else trouble.began
    sign = trouble.sign(spot)
    if not sign or sign not in "@`%*&!,]}|>?":
        return None
    return trouble.said(spot, f"A text cannot begin with {_SIGNS.get(sign, f'`{sign}`')}.",
                        _quoted(trouble.text(spot)[spot.column :]), "a text in quotes", _QUOTES)


def _after_end(trouble: Trouble) -> Finding | None:
    if "<document start>" not in trouble.problem:
        return None
    return trouble.said(trouble.at, "Something follows after the end of the recipe.",
                        _quoted(trouble.text(trouble.at)), "one recipe in each file")


_EXPLANATIONS: tuple[Callable[[Trouble], Finding | None], ...] = (
    _tab,
    open_quote,
    quote_above,
    backslash,
    _in_brackets,
    _missing_space,
    _colon,
    _simple_key,
    _in_block,
    _list_on_key_line,
    _beneath_block_text,
    _after_end,
    _first_sign,
)
