"""What moves a device: read as it is said, said as it is read, refused in plain words."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.recipe.moving import Both, Either, Not, Wish, Word, names, parse_wish, said

WISHES: st.SearchStrategy[Wish] = st.recursive(
    st.sampled_from(["motor", "white", "left-hot-water", "0.5-way"]).map(Word),
    lambda inner: st.one_of(st.builds(Not, inner), st.builds(Both, inner, inner),
                            st.builds(Either, inner, inner)), max_leaves=8)


def value(wish: Wish, true: dict[str, bool]) -> bool:
    match wish:
        case Word(name):
            return true[name]
        case Not(inner):
            return not value(inner, true)
        case Both(left, right):
            return value(left, true) and value(right, true)
        case Either(left, right):
            return value(left, true) or value(right, true)


@given(WISHES, st.tuples(*[st.booleans()] * 4))
def test_what_is_said_is_read_with_the_same_meaning(wish: Wish, truth: tuple[bool, ...]) -> None:
    words = dict(zip(["motor", "white", "left-hot-water", "0.5-way"], truth, strict=True))
    assert value(parse_wish(said(wish)), words) == value(wish, words)
    assert said(parse_wish(said(wish))) == said(wish)


def test_not_binds_closest_and_and_before_or() -> None:
    wish = parse_wish("a or not b and c")
    assert wish == Either(Word("a"), Both(Not(Word("b")), Word("c")))
    assert list(names(wish)) == ["a", "b", "c"]


@pytest.mark.parametrize(("text", "complaint"), [
    ("", "the end stands where a name belongs"),
    ("a and", "the end stands where a name belongs"),
    ("and a", "`and` stands where a name belongs"),
    ("a b", "`b` stands where `and`, `or` or the end belongs"),
    ("(a or b", "a bracket is not closed"),
    ("a)", "`)` stands where `and`, `or` or the end belongs"),
    ("a & b", "`&` stands where `and`, `or` or the end belongs"),
    ("not", "the end stands where a name belongs"),
])
def test_what_says_nothing_is_refused(text: str, complaint: str) -> None:
    with pytest.raises(ValueError, match=r"stands where|not closed") as refusal:
        parse_wish(text)
    assert str(refusal.value) == complaint


@given(st.text(alphabet="ab ()!andort-.", max_size=30))
def test_any_text_is_read_or_refused_in_words(text: str) -> None:
    try:
        answer = said(parse_wish(text))
    except ValueError as refusal:
        answer = str(refusal)
    assert answer
