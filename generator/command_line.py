"""The `handbook` command: check, build, serve, explain, schema, states, faults, plan, which."""

from __future__ import annotations

import argparse
import io
import json
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from generator.arguments import missing, parsed, project, recipes_folder
from generator.checks.subject import Subject
from generator.findings import Finding, Unreadable, mistake, near_miss
from generator.judging.named import named_conversion
from generator.judging.recipes import judge
from generator.pipeline import Handbook, check
from generator.recipe.costs_file import read_costs
from generator.recipe.library import Library
from generator.recipe.meeting import all_met
from generator.recipe.schema import json_schema
from generator.reports.faults import faults_json, faults_text
from generator.reports.findings_json import findings_json
from generator.reports.findings_text import finding_text
from generator.reports.plan import materials_json, materials_text, plan_json, plan_text
from generator.reports.rules_text import rule_text, rules_text
from generator.reports.states import states_json, states_text
from generator.reports.summary import summary
from generator.reports.which import which_json, which_text
from generator.sitework.catalogue import EVERY_RULE
from generator.sitework.coverage import coverage
from generator.sitework.finder.searches import finder
from generator.sitework.key.steps import key
from generator.sitework.materials import materials, materials_csv
from generator.sitework.plan import plan
from generator.sitework.trials import trials
from generator.sitework.work import work

CLEAN, FINDINGS, UNREAD = 0, 1, 2
"""Exit codes: nothing to say; findings; something could not be read or was not there."""
STOPPED, READER_LEFT = 130, 141
"""What a shell says of a program that Ctrl+C ended, or whose reader has gone (`| head`)."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    options = parsed(arguments)
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
        code = _COMMANDS[options.command](options)
    except Unreadable as unreadable:
        _say_findings(unreadable.findings, options.format)
        return UNREAD
    return code


def _speak_every_letter() -> None:
    """Recipes hold `mm²`, and file names may hold anything: no locale may stop them."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")


def _progress(text: str) -> None:
    if sys.stderr.isatty():
        print(f"\r\033[K{text}", end="", file=sys.stderr, flush=True)


def _checked(options: argparse.Namespace, files: Sequence[Path]) -> Handbook:
    recipes = recipes_folder(options)
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
    subject = _system(options, Library(recipes_folder(options)))
    if options.format == "json":
        print(states_json(subject))
    else:
        print("\n".join(states_text(subject)))
    return CLEAN


def _faults(options: argparse.Namespace) -> int:
    library = Library(recipes_folder(options))
    subject = _system(options, library)
    covered, name = coverage(subject), subject.wall.name
    found = finder(subject, covered, costs=read_costs(library)) if options.finder else None
    if options.format == "json":
        print(faults_json(name, covered, found))
    else:
        print("\n".join(faults_text(name, covered, found)))
    return CLEAN


def _which(options: argparse.Namespace) -> int:
    library = Library(recipes_folder(options))
    found = key(all_met(library), read_costs(library))
    print(which_json(found) if options.format == "json" else "\n".join(which_text(found)))
    return CLEAN


def _plan(options: argparse.Namespace) -> int:
    job = named_conversion(Library(recipes_folder(options)), options.conversion)
    done = work(job)
    covered = coverage(job.fitted, done.opened)
    tried = trials(job.fitted, covered, job.job.conversion.expect)
    steps = plan(done, covered, tried)
    if options.format == "json":
        print(plan_json(job.job.name, steps, materials(done)))
    else:
        print("\n".join(plan_text(job.job, steps)))
    return CLEAN


def _materials(options: argparse.Namespace) -> int:
    lines = materials(work(named_conversion(Library(recipes_folder(options)), options.conversion)))
    match options.format:
        case "csv":
            print(materials_csv(lines), end="")
        case "json":
            print(materials_json(lines))
        case _:
            print("\n".join(materials_text(lines)))
    return CLEAN


def _system(options: argparse.Namespace, library: Library) -> Subject:
    """Return the system that was named, by its name or its file; raises Unreadable."""
    file = Path(options.system)
    if file.suffix != ".yaml":
        names = library.names("system")
        if options.system not in names:
            raise missing(options.system, "a system's name or file",
                          near_miss(options.system, names))
        file = library.root / "systems" / f"{options.system}.yaml"
    source = library.source(file)
    subject = judge(library, source)[0].subject
    if not isinstance(subject, Subject):
        raise Unreadable([mistake(
            "wrong-kind", "This file holds no system.", source.place("kind"),
            found=f"a {source.model.kind}", expected="a system")])
    return subject


def _build(options: argparse.Namespace) -> int:
    # MkDocs is read only here: it would double the time a check takes to start.
    from generator.building import build_site

    handbook = _checked(options, ())
    if handbook.findings:
        _say_findings(handbook.findings, "text")
        print(summary(handbook.tally), "The site was left as it was.")
        return UNREAD if handbook.unread else FINDINGS
    print(summary(handbook.tally, long=True))
    site = build_site(project(options) / "mkdocs.yml")
    print(f"Built: {site}")
    return CLEAN


def _serve(options: argparse.Namespace) -> int:
    from generator.building import serve_site

    recipes_folder(options)
    print(f"http://{options.address}/ shows the handbook and follows its recipes; Ctrl+C ends it.",
          flush=True)
    serve_site(project(options) / "mkdocs.yml", options.address)
    return CLEAN


_COMMANDS: dict[str, Callable[[argparse.Namespace], int]] = {
    "check": _check,
    "build": _build,
    "serve": _serve,
    "explain": _explain,
    "schema": _schema,
    "states": _states,
    "faults": _faults,
    "which": _which,
    "plan": _plan,
    "materials": _materials,
}


if __name__ == "__main__":
    sys.exit(main())
