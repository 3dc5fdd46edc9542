"""What may be written after `handbook`: the commands, and the folder of the project."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path

from generator.findings import Place, Unreadable, mistake


def parsed(arguments: Sequence[str] | None) -> argparse.Namespace:
    """Return what was asked for: `command`, `project` and the command's own words.

    Ends the program where it is no command.
    """
    parser = argparse.ArgumentParser(
        prog="handbook", description="Checks wiring recipes and builds the handbook from them.")
    parser.set_defaults(project=None, format="text")
    _take_project(parser)
    commands = parser.add_subparsers(required=True, metavar="COMMAND", dest="command")

    def command(name: str, help: str) -> argparse.ArgumentParser:
        added = commands.add_parser(name, help=help)
        _take_project(added)
        return added

    checking = command("check", "check recipes; all of them if none is named")
    checking.add_argument("files", nargs="*", type=Path, metavar="FILE",
                          help="a file, or a folder for all that is below it")
    checking.add_argument("--long", action="store_true",
                          help="name the rules whose premise never occurs too")
    command("build", "check every recipe and build the site")
    serving = command("serve", "show the site here, made anew at every change")
    serving.add_argument("--address", default="127.0.0.1:8000",
                         help="host and port (127.0.0.1:8000, if left out)")
    command("explain", "explain a rule").add_argument("rule", nargs="?")
    command("schema", "print the JSON Schema of a recipe file")
    states = command("states", "print every settled state of a system")
    states.add_argument("system", help="a system's name or file")
    faults = command("faults", "print how every single fault of a system shows")
    faults.add_argument("system", help="a system's name or file")
    faults.add_argument("--finder", action="store_true",
                        help="how many measurements each complaint takes as well")
    which = command("which", "print the questions that lead from a wall to its conversion")
    plan = command("plan", "print every step of a conversion, in order")
    plan.add_argument("conversion", help="a conversion's name or file")
    listing = command("materials", "print what a conversion needs")
    listing.add_argument("conversion", help="a conversion's name or file")
    listing.add_argument("--format", choices=("text", "csv", "json"), default="text")
    for printing in (checking, states, faults, which, plan):
        printing.add_argument("--format", choices=("text", "json"), default="text")
    return parser.parse_args(arguments)


def _take_project(parser: argparse.ArgumentParser) -> None:
    # Allowed before and after the command; the second must not undo the first.
    parser.add_argument("--project", type=Path, default=argparse.SUPPRESS,
                        help="folder with mkdocs.yml and recipes/ (this one, or the nearest "
                             "above it, if left out)")


def project(options: argparse.Namespace) -> Path:
    """Return the folder of the project: the one said, else the nearest with mkdocs.yml."""
    if options.project is not None:
        return Path(options.project)
    near = (Path(), *Path.cwd().parents)
    return next((folder for folder in near if (folder / "mkdocs.yml").is_file()), Path())


def recipes_folder(options: argparse.Namespace) -> Path:
    """Return the project's folder of recipes; raises Unreadable where there is none."""
    recipes = project(options) / "recipes"
    if not recipes.is_dir():
        raise missing(str(recipes), "a folder `recipes` with parts, systems and conversions",
                      "run this at or below the folder of mkdocs.yml, or say --project")
    return recipes


def missing(what: str, expected: str, hint: str) -> Unreadable:
    """Return the refusal that something named on the command line is not there."""
    return Unreadable([mistake("no-such-file", f"`{what}` is not there.", Place(what, 1, 1),
                               found="nothing", expected=expected, hint=hint)])
