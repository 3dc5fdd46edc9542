"""Recipes as a hasty hand leaves them: bytes changed, lines lost, doubled, swapped or pushed in."""

from hypothesis import strategies as st

PUNCTUATION = [
    ":", ": ", "- ", "? ", "{", "}", "[", "]", ", ", "#", " #", "&a ", "*a", "!", "!!str ", "|",
    ">", "'", '"', "%", "@", "`", "\t", "\\", "---\n", "...\n", "<<: ", "~", "\r", "\n", "\x00",
    "\ufeff", "\u2028", "\x85", "e\u0301", "線", "nan", "-inf", "1e999", "9" * 400, "[key]", "null",
    "08", "0x1F", '"\\ud800"', '"\\UFFFFFFFF"', "[" * 20, "{a: " * 20,
]


def _spot(draw, length):
    return draw(st.integers(0, max(length - 1, 0)))


@st.composite
def byte_changed(draw, content):
    spot = _spot(draw, len(content))
    new = draw(st.binary(max_size=3))
    return content[:spot] + new + content[spot + draw(st.integers(0, 3)):]


@st.composite
def line_lost(draw, content):
    lines = content.split(b"\n")
    del lines[_spot(draw, len(lines))]
    return b"\n".join(lines)


@st.composite
def line_doubled(draw, content):
    lines = content.split(b"\n")
    lines.insert(_spot(draw, len(lines)), lines[_spot(draw, len(lines))])
    return b"\n".join(lines)


def _indent(line):
    return len(line) - len(line.lstrip(b" "))


@st.composite
def indents_swapped(draw, content):
    lines = content.split(b"\n")
    one, other = _spot(draw, len(lines)), _spot(draw, len(lines))
    first, second = lines[one], lines[other]
    lines[one] = first.lstrip(b" ").rjust(len(first.lstrip(b" ")) + _indent(second))
    lines[other] = second.lstrip(b" ").rjust(len(second.lstrip(b" ")) + _indent(first))
    return b"\n".join(lines)


@st.composite
def punctuation_put_in(draw, content):
    spot = _spot(draw, len(content))
    sign = draw(st.sampled_from(PUNCTUATION)).encode()
    return content[:spot] + sign + content[spot:]


@st.composite
def word_replaced(draw, content):
    """Put a word of the recipe, or a sign, where another word stood."""
    words = content.split(b" ")
    words[_spot(draw, len(words))] = draw(st.one_of(
        st.sampled_from(words), st.sampled_from(PUNCTUATION).map(str.encode), st.just(b"")))
    return b" ".join(words)


EDITS = (byte_changed, line_lost, line_doubled, indents_swapped, punctuation_put_in, word_replaced)


@st.composite
def edited(draw, content):
    """Return the content after one to four edits."""
    for edit in draw(st.lists(st.sampled_from(EDITS), min_size=1, max_size=4)):
        content = draw(edit(content))
    return content
