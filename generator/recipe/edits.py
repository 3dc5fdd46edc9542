"""Single edits of a system's document: each puts a value in or takes one out, at a known place."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from generator.findings import Finding, Place, mistake, near_miss, one_of
from generator.recipe.document import Path, Value


@dataclass(frozen=True)
class Edit:
    """What becomes of the value at `path`: `value` stands there, or nothing where it is None.

    `place` is where the edit is written; `there` says whether something has to stand at `path`
    before, None that it may.
    """

    path: Path
    value: Value | None
    place: Place
    there: bool | None


def edits_of(change: Value) -> Iterator[Edit]:
    """Yield the edits of one named change, in the order in which they are made."""
    verbs = change.mapping or {}
    for group, names in _groups(verbs.get("remove")):
        for name in names.listing or ():
            yield Edit(_path(group, name.text or ""), None, name.place, there=True)
    for verb, there in (("replace", True), ("add", False)):
        for group, things in _groups(verbs.get(verb)):
            yield from _put(group, things, there)
    for moved, ends in _groups(verbs.get("move")):
        path = _path("cores" if "." in moved else "links", moved)
        for end, value in _groups(ends):
            yield Edit((*path, end), value, ends.keys[end], there=None if end == "sleeve" else True)


def _groups(value: Value | None) -> Iterator[tuple[str, Value]]:
    yield from ((value and value.mapping) or {}).items()


def _put(group: str, things: Value, there: bool) -> Iterator[Edit]:
    for name, value in (things.mapping or {}).items():
        yield Edit(_path(group, name), value, things.keys[name], there)
    for value in things.listing or ():
        yield Edit((group, ""), value, value.place, there=None)


def _path(group: str, name: str) -> Path:
    """Return where something stands; a core, written `W4.GY`, stands in its cable."""
    if group == "cores":
        cable, _, colour = name.partition(".")
        return "cables", cable, "cores", colour
    return group, name


def edited(root: Value, edits: Iterable[Edit]) -> tuple[Value, tuple[Finding, ...]]:
    """Return a document's root with edits made, and what of them could not be made."""
    mistakes: list[Finding] = []
    for edit in edits:
        if edit.path[0] == "notices":
            root, wrong = _labelled(root, edit)
        else:
            root, wrong = _made(root, edit)
        mistakes += wrong
    return root, tuple(mistakes)


def _made(root: Value, edit: Edit) -> tuple[Value, list[Finding]]:
    *above, last = (*root.along(edit.path),)
    there = len(above) == len(edit.path)
    if edit.there and not there:
        return root, [_nothing_there(edit, str(edit.path[len(above)]), list(last.mapping or {}))]
    if edit.there is False and there:
        return root, [_there_already(edit, above[-1].keys[str(edit.path[-1])])]
    return _with(root, edit.path, edit), []


def _with(holder: Value, path: Path, edit: Edit) -> Value:
    """Return a mapping in which an edit is made, the rest shared."""
    mapping, keys = dict(holder.mapping or {}), dict(holder.keys)
    step = str(path[0])
    if len(path) > 1:
        below = mapping.get(step) or Value(edit.place, mapping={})
        mapping[step] = _with(below, path[1:], edit)
        keys.setdefault(step, edit.place)
    elif edit.value is None:
        del mapping[step], keys[step]
    else:
        mapping[step], keys[step] = edit.value, edit.place
    return replace(holder, mapping=mapping, keys=keys)


def _labelled(root: Value, edit: Edit) -> tuple[Value, list[Finding]]:
    """Return the root with a notice more, or without those at one part."""
    notices = root.child("notices") or Value(edit.place, listing=[])
    kept = list(notices.listing or ())
    if edit.value is not None:
        kept.append(edit.value)
    elif (part := str(edit.path[-1])) in (labelled := [_at(each) for each in kept]):
        kept = [each for each in kept if _at(each) != part]
    else:
        return root, [_nothing_there(edit, part, sorted({*labelled}))]
    whole = Edit(("notices",), replace(notices, listing=kept),
                 root.keys.get("notices", edit.place), None)
    return _with(root, whole.path, whole), []


def _at(notice: Value) -> str:
    at = notice.child("at")
    return (at and at.text) or ""


def _nothing_there(edit: Edit, name: str, known: list[str]) -> Finding:
    return mistake(
        "nothing-to-change", f"There is no `{name}` in {_where(edit, name)} to change.",
        edit.place, found=f"`{name}`",
        expected=one_of(known[:12]) if known else "nothing: there is none",
        hint=near_miss(name, known))


def _there_already(edit: Edit, first: Place) -> Finding:
    name = str(edit.path[-1])
    return mistake(
        "already-there", f"There is a `{name}` in {_where(edit, name)} already.",
        edit.place.noted("added here"), first.noted("stands here"),
        found=f"`{name}` under `add:`", expected="a name that is not used yet",
        hint="put it under `replace:` if it stands in for the other")


def _where(edit: Edit, name: str) -> str:
    """Return in what of a system a name is looked for, in words."""
    group, holder = edit.path[0], edit.path[1]
    return f"the {group} of this system" if holder == name or group == "notices" else f"`{holder}`"
