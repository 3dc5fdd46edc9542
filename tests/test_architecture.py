"""Who may import what: the contracts in pyproject.toml, and starting programs beside them."""

import ast
from pathlib import Path

import pytest
from importlinter.cli import EXIT_STATUS_SUCCESS, lint_imports

ROOT = Path(__file__).parent.parent
# The contracts see packages from outside Python's own library only; these belong to it.
MODULES_THAT_START_PROGRAMS = {"subprocess", "multiprocessing", "pty"}
CALLS_THAT_START_PROGRAMS = ("system", "popen", "spawn", "exec", "posix_spawn", "fork")
MAY_START_PROGRAMS = {"generator/pages/drawing.py"}


def test_the_import_contracts_hold(monkeypatch, capsys):
    monkeypatch.chdir(ROOT)
    status = lint_imports(no_cache=True)
    assert status == EXIT_STATUS_SUCCESS, capsys.readouterr().out


def starts_program(statement: ast.AST) -> bool:
    match statement:
        case ast.Import(names=names):
            return any(n.name.split(".")[0] in MODULES_THAT_START_PROGRAMS for n in names)
        case ast.ImportFrom(module="os", names=names):
            return any(n.name.startswith(CALLS_THAT_START_PROGRAMS) for n in names)
        case ast.ImportFrom(module=str(module)):
            return module.split(".")[0] in MODULES_THAT_START_PROGRAMS
        case ast.Attribute(value=ast.Name(id="os"), attr=call):
            return call.startswith(CALLS_THAT_START_PROGRAMS)
    return False


def test_only_the_drawing_module_starts_a_program():
    starting = {
        str(path.relative_to(ROOT))
        for path in (ROOT / "generator").rglob("*.py")
        if any(map(starts_program, ast.walk(ast.parse(path.read_bytes()))))
    }
    assert starting <= MAY_START_PROGRAMS


@pytest.mark.parametrize(
    ("source", "starts"),
    [
        ("import subprocess", True),
        ("import os, subprocess as s", True),
        ("def late():\n    from subprocess import run", True),
        ("from multiprocessing.pool import Pool", True),
        ("import os\nos.system('neato')", True),
        ("from os import execvp", True),
        ("import os\nos.environ", False),
        ("from os import path", False),
        ("from . import drawing", False),
    ],
)
def test_every_way_to_start_a_program_is_seen(source, starts):
    assert any(map(starts_program, ast.walk(ast.parse(source)))) is starts
