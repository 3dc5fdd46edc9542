"""The `handbook` command: check, build, serve, explain, schema, states."""

from __future__ import annotations

import argparse
import io
import json
import os
import sys
from collections.abc import Sequence
from pathlib import Path

from generator.checks.subject import Subject
from generator.findings import Finding, Place, Unreadable, mistake, near_miss
from generator.pipeline import Handbook, check, judge
from generator.recipe.library import Library
from generator.recipe.schema import json_schema
from generator.reports.findings_json import findings_json
from generator.reports.findings_text import finding_text
from generator.reports.rules_text import rule_text, rules_text
from generator.reports.states import states_json, states_text
from generator.reports.summary import summary
from generator.sitework.catalogue import EVERY_RULE

CLEAN, FINDINGS, UNREAD = 0, 1, 2
"""Exit codes: nothing to say; findings; something could not be read or was not there."""
STOPPED, READER_LEFT = 130, 141
"""What a shell says of a program that Ctrl+C ended, or whose reader has gone (`| head`)."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    options = _parser().parse_args(arguments)
    _speak_every_letter()
    try:
        code = _run(options)
        sys.stdout.flush()
    except BrokenPipeError:
        # Python flushes once more when it ends, and would complain about it.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return READER_LEFT
    except KeyboardInterrupt:
        return STOPPED
    return code


def _run(options: argparse.Namespace) -> int:
    try:
        code: int = options.run(options)
    except Unreadable as unreadable:
        _say_findings(unreadable.findings, getattr(options, "format", "text"))
        return UNREAD
    return code


def _speak_every_letter() -> None:
    """Recipes hold `mm²`, and file names may hold anything: no locale may stop them."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="handbook", description="Checks wiring recipes and builds the handbook from them.")
    parser.set_defaults(project=None)
    commands = parser.add_subparsers(required=True, metavar="COMMAND")

    checking = commands.add_parser("check", help="check recipes; all of them if none is named")
    checking.add_argument("files", nargs="*", type=Path, metavar="FILE",
                          help="a file, or a folder for all that is below it")
    checking.add_argument("--long", action="store_true",
                          help="name the rules whose premise never occurs too")
    checking.set_defaults(run=_check)
    building = commands.add_parser("build", help="check every recipe and build the site")
    building.set_defaults(run=_build)
    serving = commands.add_parser("serve", help="show the site here, made anew at every change")
    serving.add_argument("--address", default="127.0.0.1:8000")
    serving.set_defaults(run=_serve)
    explaining = commands.add_parser("explain", help="explain a rule")
    explaining.add_argument("rule", nargs="?")
    explaining.set_defaults(run=_explain)
    schema = commands.add_parser("schema", help="print the JSON Schema of a recipe file")
    schema.set_defaults(run=_schema)
    states = commands.add_parser("states", help="print every settled state of a system")
    states.add_argument("system", help="a system's name or file")
    states.set_defaults(run=_states)
    for command in (checking, states):
        command.add_argument("--format", choices=("text", "json"), default="text")
    for command in (parser, checking, building, serving, explaining, schema, states):
        # Allowed before and after the command; the second must not undo the first.
        command.add_argument("--project", type=Path, default=argparse.SUPPRESS,
                             help="folder with mkdocs.yml and recipes/ (this one, or the nearest "
                                  "above it, if left out)")
    return parser


def _project(options: argparse.Namespace) -> Path:
    if options.project is not None:
        return Path(options.project)
    near = (Path(), *Path.cwd().parents)
    return next((folder for folder in near if (folder / "mkdocs.yml").is_file()), Path())


def _recipes(options: argparse.Namespace) -> Path:
    recipes = _project(options) / "recipes"
    if not recipes.is_dir():
        raise Unreadable([_missing(
            str(recipes), "a folder `recipes` with parts, systems and conversions",
            "run this at or below the folder of mkdocs.yml, or say --project")])
    return recipes


def _missing(what: str, expected: str, hint: str) -> Finding:
    return mistake("no-such-file", f"`{what}` is not there.", Place(what, 1, 1),
                   found="nothing", expected=expected, hint=hint)


def _progress(text: str) -> None:
    if sys.stderr.isatty():
        print(f"\r\033[K{text}", end="", file=sys.stderr, flush=True)


def _checked(options: argparse.Namespace, files: Sequence[Path]) -> Handbook:
    recipes = _recipes(options)
    handbook = check(recipes, files or [recipes], lambda file: _progress(f"check {file}"))
    _progress("")
    return handbook


def _say_findings(findings: Sequence[Finding], form: str) -> None:
    if form == "json":
        print(findings_json(findings))
        return
    for finding in findings:
        print(finding_text(finding), end="\n\n")


def _check(options: argparse.Namespace) -> int:
    handbook = _checked(options, options.files)
    _say_findings(handbook.findings, options.format)
    if options.format == "text":
        print(summary(handbook.tally, options.long))
    if handbook.unread:
        return UNREAD
    return FINDINGS if handbook.findings else CLEAN


def _explain(options: argparse.Namespace) -> int:
    lines = rules_text() if options.rule is None else rule_text(options.rule)
    said = "\n".join(lines)
    if not said:
        names = [rule.name for rule in EVERY_RULE]
        print(f"There is no rule `{options.rule}`.", near_miss(options.rule, names),
              file=sys.stderr)
        return UNREAD
    print(said)
    return CLEAN


def _schema(options: argparse.Namespace) -> int:
    print(json.dumps(json_schema(), indent=2, ensure_ascii=False))
    return CLEAN


def _states(options: argparse.Namespace) -> int:
    recipes = _recipes(options)
    library = Library(recipes)
    file = Path(options.system)
    if file.suffix != ".yaml":
        names = library.names("system")
        if options.system not in names:
            raise Unreadable([_missing(options.system, "a system's name or file",
                                       near_miss(options.system, names))])
        file = recipes / "systems" / f"{options.system}.yaml"
    source = library.source(file)
    subject = judge(library, source).subject
    if not isinstance(subject, Subject):
        raise Unreadable([mistake(
            "wrong-kind", "This file holds no system.", source.place("kind"),
            found=f"a {source.model.kind}", expected="a system")])
    if options.format == "json":
        print(states_json(subject))
    else:
        print("\n".join(states_text(subject)))
    return CLEAN


def _build(options: argparse.Namespace) -> int:
    # MkDocs is read only here: it would double the time a check takes to start.
    from generator.building import build_site

    handbook = _checked(options, ())
    if handbook.findings:
        _say_findings(handbook.findings, "text")
        print(summary(handbook.tally), "The site was left as it was.")
        return UNREAD if handbook.unread else FINDINGS
    print(summary(handbook.tally, long=True))
    site = build_site(_project(options) / "mkdocs.yml")
    print(f"Built: {site}")
    return CLEAN


def _serve(options: argparse.Namespace) -> int:
    from generator.building import serve_site

    _recipes(options)
    print(f"http://{options.address}/ shows the handbook and follows its recipes; Ctrl+C ends it.",
          flush=True)
    serve_site(_project(options) / "mkdocs.yml", options.address)
    return CLEAN


if __name__ == "__main__":
    sys.exit(main())
