"""Whatever the bytes: reading gives a recipe or findings, each finding placed inside its file."""

import re
from contextlib import contextmanager
from pathlib import Path

import pytest
import yaml
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from generator.findings import Unreadable
from generator.recipe import parsing
from generator.recipe.library import Library
from generator.recipe.parsing import read_document
from generator.recipe.reader import read_job
from generator.recipe.shapes import shaped
from generator.recipe.wall import Source
from generator.reports.findings_text import finding_text
from tests.recipe.edits import PUNCTUATION, edited
from tests.recipe.mistakes import RECIPES, read_whole

FAST, SLOW = yaml.CSafeLoader, yaml.SafeLoader
LOADERS = pytest.mark.parametrize("loader", [FAST, SLOW], ids=["libyaml", "pure"])
FLAGSHIP = RECIPES / "conversions" / "electronic-cylinder-to-wireless-two-zone.yaml"
STANDARD = RECIPES / "systems" / "two-zone-wireless-receiver-cylinder-cut-out.yaml"
ALL = sorted(RECIPES.glob("*/*.yaml"))
calm = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])


@contextmanager
def reading_with(loader):
    before, parsing._LOADER = parsing._LOADER, loader
    try:
        yield
    finally:
        parsing._LOADER = before


def lines(content: bytes) -> list[str]:
    """Count lines as YAML 1.1 does (its line breaks), apart from the reader's own count."""
    return re.split("\r\n|[\n\r\x85\u2028\u2029]", content.decode("utf-8-sig", "replace"))


def assert_well_placed(findings, contents):
    assert findings
    for finding in findings:
        assert finding.places
        finding_text(finding).encode()
        for place in finding.places:
            text = lines(contents[place.file])
            assert 1 <= place.line <= len(text), (finding, len(text))
            assert 1 <= place.column <= len(text[place.line - 1]) + 1, finding


def read_alone(content):
    try:
        shaped(read_document("x.yaml", content))
    except Unreadable as unreadable:
        assert_well_placed(unreadable.findings, {"x.yaml": content})


@LOADERS
@given(content=st.binary(max_size=200))
@calm
def test_any_bytes_are_a_recipe_or_findings(loader, content):
    with reading_with(loader):
        read_alone(content)


PIECES = st.sampled_from([*PUNCTUATION, "\n", "\n  ", "\n    ", " ", "kind: part", "kind: system",
                          "terminals", "cores", "W1", "X1:7", "from", "a", "0.75", "on"])


@LOADERS
@given(content=st.lists(PIECES, max_size=40).map("".join).map(str.encode))
@example(b"? [a, b]\n: c\n")
@example(b"? {a: b}\n")
@example(b": c\n")
@example(b"{: c, : d}")
@example(b"kind: part\n'[key]': {'[key]': 1}\nswitches: {'[key]': {'[key]': a}}\n")
@example(b"kind: part\nterminals: {'[key]': {takes: nan}, 0: {takes: 1e9}}\n")
@example(b"kind: cable\narea: inf\namps: -nan\ncores: [" + b"9" * 5000 + b"]\n")
@example(b"kind: cable\narea: " + b"9" * 5000 + b"\n")
@example(b'kind: "\\ud800"\n')
@example(b'"\\ud800": 1\n')
@example(b'kind: "\\0"\n')
@example(b"\xef\xbb\xbfkind: cable\n\xef\xbb\xbfname: x\n")
@example(b"\xef\xbb\xbf")
@example(b"kind: cable\r\nname: x\r\namps: y\r\n")
@example(b"kind: cable\rname: [\r")
@example("kind: cable\u2028name: [\x85".encode())
@example(b"a: &a [*a]\n")
@example(b"[" * 5000)
@example(b"{a: " * 3000)
@example(b"- " * 3000)
@example(b"%YAML 3.0\n---\na: b\n")
@example(b"%TAG ! tag:x,2000:\n---\n!x a\n")
@example(b"kind: [part]\n")
@example(b"kind: {part: system}\n")
@example(b"kind:\n")
@example(b"<<: {kind: part}\n")
@example(b"---\n#")
@calm
def test_any_signs_of_yaml_are_a_recipe_or_findings(loader, content):
    with reading_with(loader):
        read_alone(content)


@LOADERS
@given(data=st.data(), path=st.sampled_from(ALL))
@settings(calm, max_examples=150)
def test_a_real_recipe_edited_at_random_is_a_recipe_or_findings(loader, data, path):
    with reading_with(loader):
        read_alone(data.draw(edited(path.read_bytes())))


def library_with(path: Path, content: bytes, read_before: dict) -> Library:
    """Return the shipped recipes with one of them edited."""
    library = Library(RECIPES, dict(read_before))
    name = library.shown(path)
    try:
        document = read_document(name, content)
        library.read[path] = Source(path.stem, document, shaped(document))
    except Unreadable as unreadable:
        library.read[path] = unreadable
    return library


@pytest.fixture(scope="module")
def all_read() -> dict:
    library = Library(RECIPES)
    for path in ALL:
        read_whole(library, path)
    return library.read


@given(data=st.data(), path=st.sampled_from([FLAGSHIP, STANDARD, STANDARD, *ALL]))
@settings(calm, max_examples=300)
def test_the_flagship_with_one_file_edited_is_a_job_or_findings(all_read, data, path):
    content = data.draw(edited(path.read_bytes()))
    library = library_with(path, content, all_read)
    contents = {library.shown(each): each.read_bytes() for each in ALL}
    contents[library.shown(path)] = content
    try:
        source = library.source(FLAGSHIP)
        if source.model.kind == "conversion":
            read_job(library, source, source.model)
    except Unreadable as unreadable:
        assert_well_placed(unreadable.findings, contents)


@st.composite
def names_muddled(draw, content):
    """Swap terminals, designations and words for others of the file: all shapes stay right."""
    text = content.decode()
    words = sorted(set(re.findall(r"\b(?:[A-Z]\d+(?:[:.][\w-]+)?|call|off|cold|BN|GY)\b", text)))
    for _ in range(draw(st.integers(1, 4))):
        old, new = draw(st.sampled_from(words)), draw(st.sampled_from([*words, "X1:99", "Z9"]))
        spots = [each.start() for each in re.finditer(rf"\b{re.escape(old)}\b", text)]
        if spots:
            spot = draw(st.sampled_from(spots))
            text = text[:spot] + new + text[spot + len(old):]
    return text.encode()


@given(data=st.data(), path=st.sampled_from([FLAGSHIP, STANDARD]))
@settings(calm, max_examples=200)
def test_the_flagship_with_names_muddled_is_a_job_or_findings(all_read, data, path):
    content = data.draw(names_muddled(path.read_bytes()))
    library = library_with(path, content, all_read)
    contents = {library.shown(each): each.read_bytes() for each in ALL}
    contents[library.shown(path)] = content
    try:
        source = library.source(FLAGSHIP)
        read_job(library, source, source.model)
    except Unreadable as unreadable:
        assert_well_placed(unreadable.findings, contents)
