"""What a conversion is in each combination of its choices: one document for each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from itertools import product

from generator.findings import Place
from generator.recipe.choices import NotOffered, Option, Together
from generator.recipe.conversions import Conversion
from generator.recipe.document import Document, Path, Value
from generator.recipe.standing import Asked
from generator.recipe.wall import Source

SIDES = ("found", "fitted")
_FITS = ("needs", "not-with", "look")


@dataclass(frozen=True)
class Chosen:
    """One option of one choice, by their names, and where it is written."""

    choice: str
    name: str
    option: Option = field(compare=False)
    place: Place
    usual: bool


@dataclass(frozen=True)
class Combination:
    """A conversion with one option of every choice."""

    source: Source
    chosen: tuple[Chosen, ...]
    refused: NotOffered | None = None

    @property
    def unusual(self) -> tuple[Chosen, ...]:
        """The options that make it another page than the conversion's own."""
        return tuple(each for each in self.chosen if not each.usual)

    @property
    def options(self) -> dict[str, str]:
        """The option of each choice, by their names."""
        return {each.choice: each.name for each in self.chosen}

    @property
    def name(self) -> str:
        """The page's address: the conversion's, then every option that is not the usual one."""
        return "--".join((self.source.name, *(each.name for each in self.unusual)))

    def asked(self, side: str) -> Iterator[Asked]:
        """Yield the changes that the options mean for the `found` or the `fitted` system."""
        for each in self.chosen:
            path = ("choices", each.choice, "options", each.name, side)
            for i, name in enumerate(getattr(each.option, side)):
                yield name, self.source.place(*path, i)

    def refusal_place(self, *path: str) -> Place:
        """Return where something of its refusal is written."""
        model = self.source.model
        assert isinstance(model, Conversion) and self.refused
        return self.source.place("not-offered", model.not_offered.index(self.refused), *path)

    def document(self) -> Document:
        """Return the conversion's document with what the options add and leave out."""
        root = self.source.document.root
        for words in self._words():
            root = _said(root, words)
        name = root.child("name")
        if name and self.unusual:
            root = _put(root, "name", replace(name, text=self._title(name.text or "")))
        return replace(self.source.document, root=root)

    def _words(self) -> Iterator[Value]:
        """Yield what every option says, then what is said where several of them meet."""
        document, model = self.source.document, self.source.model
        assert isinstance(model, Conversion)
        paths: list[Path] = [("choices", each.choice, "options", each.name)
                             for each in self.chosen]
        paths += (("together", i) for i, each in enumerate(model.together)
                  if _chosen(each, self.chosen))
        yield from (words for path in paths if (words := document.value(*path)))

    def _title(self, name: str) -> str:
        said = (each.option.says.rstrip(".") for each in self.unusual)
        return f"{name}: {'; '.join(said)}"


def combinations(source: Source, conversion: Conversion) -> tuple[Combination, ...]:
    """Return every combination of a conversion's choices, the usual one first."""
    every = product(*(_options(source, conversion, name) for name in conversion.choices))
    return tuple(Combination(source, chosen, _refused(conversion, chosen)) for chosen in every)


def _options(source: Source, conversion: Conversion, choice: str) -> tuple[Chosen, ...]:
    options = conversion.choices[choice].options
    return tuple(
        Chosen(choice, name, option, source.key_place("choices", choice, "options", name), i == 0)
        for i, (name, option) in enumerate(options.items()))


def _refused(conversion: Conversion, chosen: tuple[Chosen, ...]) -> NotOffered | None:
    return next((each for each in conversion.not_offered if _chosen(each, chosen)), None)


def _chosen(each: NotOffered | Together, chosen: tuple[Chosen, ...]) -> bool:
    return each.when.items() <= {option.choice: option.name for option in chosen}.items()


def _said(root: Value, option: Value) -> Value:
    """Return a conversion's root with the words of an option."""
    for where, what in _mapping(option.child("leaves-out")):
        names = {each.text for each in what.listing or ()}
        root = _put(root, where, _left(root.child(where), names))
    for where, what in _mapping(option.child("adds")):
        if where in _FITS:
            fits = root.child("fits") or Value(what.place, mapping={})
            root = _put(root, "fits", _put(fits, where, _joined(fits.child(where), what)))
        else:
            root = _put(root, where, _joined(root.child(where), what))
    return root


def _mapping(value: Value | None) -> tuple[tuple[str, Value], ...]:
    return tuple(((value and value.mapping) or {}).items())


def _put(holder: Value, step: str, value: Value | None) -> Value:
    if value is None:
        return holder
    return replace(holder, mapping={**(holder.mapping or {}), step: value},
                   keys={step: value.place, **holder.keys})


def _left(value: Value | None, names: set[str | None]) -> Value | None:
    """Return a mapping or a list of named cases without some of them."""
    if value is None:
        return None
    if value.mapping is not None:
        return replace(value, mapping={k: v for k, v in value.mapping.items() if k not in names})
    kept = [each for each in value.listing or () if _name(each) not in names]
    return replace(value, listing=kept)


def _joined(under: Value | None, over: Value) -> Value:
    """Return two mappings or two lists as one; what has the same name is put in its place."""
    if under is None:
        return over
    if over.mapping is not None:
        return replace(under, mapping={**(under.mapping or {}), **over.mapping},
                       keys={**under.keys, **over.keys})
    named = {name: each for each in over.listing or () if (name := _name(each))}
    kept = [named.pop(_name(each) or "", each) for each in under.listing or ()]
    rest = [each for each in over.listing or () if not _name(each) or _name(each) in named]
    return replace(under, listing=[*kept, *rest])


def _name(value: Value) -> str | None:
    name = value.child("name")
    return name.text if name else None
