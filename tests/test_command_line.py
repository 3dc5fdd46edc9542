"""The command: its exit codes, its output as text and as JSON, and that it never traces back."""

import json
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest

from generator.command_line import CLEAN, FINDINGS, UNREAD, main
from generator.sitework.catalogue import EVERY_RULE
from tests.pages.project import CONVERSION, FITTED, FOUND, RECEIVER, copied, edit

KEYS = {"rule", "severity", "message", "places", "found", "expected", "hint", "state", "path"}
PLACE_KEYS = {"file", "line", "column", "note"}
SWAPPED = ("from: X1:3, to: K1:N", "from: X1:2, to: K1:N")
"""The receiver's neutral core landed on permanent line."""


def count(project: Path, *folders: str) -> int:
    """Return how many recipes there are, in all folders or in some."""
    return sum(len(list(project.glob(f"recipes/{folder}/*.yaml"))) for folder in folders or "*")


@pytest.fixture
def project(tmp_path: Path) -> Path:
    return copied(tmp_path)


@pytest.fixture
def faulty(project: Path) -> Path:
    edit(project / FITTED, *SWAPPED)
    return project


@pytest.fixture
def unreadable(project: Path) -> Path:
    edit(project / RECEIVER, "kind: part", "kind: [part")
    return project


class Run:
    """Runs the command in this process: exit code, what it printed, what it complained."""

    def __init__(self, capsys: pytest.CaptureFixture[str]) -> None:
        self.capsys = capsys

    def __call__(self, project: Path, *words: object) -> tuple[int, str, str]:
        code = main(["--project", str(project), *map(str, words)])
        return code, *self.capsys.readouterr()


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    return Run(capsys)


def findings(printed: str) -> list[dict[str, object]]:
    """Return the findings of JSON output after holding it against its promised form."""
    said = json.loads(printed)
    assert list(said) == ["findings"]
    for finding in said["findings"]:
        assert set(finding) == KEYS
        assert finding["places"]
        assert finding["severity"] in ("error", "warning")
        assert all(set(place) == PLACE_KEYS for place in finding["places"])
        assert all(place["line"] >= 1 and place["column"] >= 1 for place in finding["places"])
        assert isinstance(finding["state"], dict)
        assert isinstance(finding["path"], list)
    return said["findings"]


def test_clean_recipes(project, run):
    code, out, err = run(project, "check")
    assert (code, err) == (CLEAN, "")
    assert f"{count(project)} recipes read; 0 findings" in out
    code, out, err = run(project, "check", "--format", "json")
    assert (code, findings(out), err) == (CLEAN, [], "")


def test_a_finding_as_text(faulty, run):
    code, out, err = run(faulty, "check")
    assert (code, err) == (FINDINGS, "")
    text = (faulty / FITTED).read_text(encoding="utf-8")
    line = text[:text.index(SWAPPED[1])].count("\n") + 1
    assert f"{FITTED}:{line}:7: error: load-without-neutral: " in out
    assert "   when: " in out
    assert "   path: " in out


def test_a_finding_as_json_says_the_same(faulty, run):
    code, out, _ = run(faulty, "check", "--format", "json")
    assert code == FINDINGS
    said = findings(out)
    assert "load-without-neutral" in {finding["rule"] for finding in said}
    text = run(faulty, "check")[1]
    for finding in said:
        assert str(finding["message"]) in text
        assert all(str(step) in text for step in finding["path"])


@pytest.mark.parametrize("form", ["text", "json"])
def test_output_is_the_same_at_every_run(faulty, run, form):
    assert run(faulty, "check", "--format", form) == run(faulty, "check", "--format", form)


def test_output_does_not_hang_on_the_order_of_hashes(faulty):
    outputs = {
        subprocess.run([sys.executable, "-m", "generator.command_line", "--project", faulty,
                        "check", "--format", "json"],
                       capture_output=True, check=False, env={"PYTHONHASHSEED": seed}).stdout
        for seed in ("1", "2", "3")}
    (printed,) = outputs
    assert findings(printed.decode())


@pytest.mark.parametrize("form", ["text", "json"])
def test_a_file_that_cannot_be_read(unreadable, run, form):
    code, out, err = run(unreadable, "check", "--format", form)
    assert (code, err) == (UNREAD, "")
    if form == "json":
        assert RECEIVER in {str(f["places"][0]["file"]) for f in findings(out)}
    else:
        assert f"{RECEIVER}:" in out
        assert "not read" in out


@pytest.mark.parametrize("file", [RECEIVER, FOUND, FITTED, CONVERSION])
def test_one_file(project, run, file):
    code, out, _ = run(project, "check", project / file)
    assert code == CLEAN
    # The part is used by the fitted system, and that by a variant and by the conversion.
    read = "4 recipes" if file == RECEIVER else "1 recipe"
    assert out.startswith(f"{read} read; 0 findings")


def test_a_part_is_judged_where_it_is_used(project, run):
    valve = project / "recipes/parts/two-port-valve.yaml"
    edit(valve, "watts: 6", "watts: 300")
    code, out, _ = run(project, "check", valve)
    assert code == FINDINGS
    assert "error: rating-exceeded: " in out


def test_a_part_that_nothing_uses_says_that_no_rule_was_asked(project, run):
    code, out, _ = run(project, "check", project / "recipes/parts/frost-thermostat.yaml")
    assert (code, out) == (CLEAN, "1 recipe read; 0 findings; no rule was asked: nothing that "
                                  "rules are about uses this.\n")


def test_a_folder_means_every_file_below_it(project, run, monkeypatch):
    monkeypatch.chdir(project)
    code, out, _ = run(project, "check", "recipes/conversions")
    assert (code, out) == (CLEAN, f"{count(project, 'conversions')} recipes read; 0 findings.\n")
    used = count(project, "parts", "systems", "conversions")
    assert run(project, "check", "recipes/parts")[1].startswith(f"{used} recipes read")
    assert run(project, "check", ".") == run(project, "check")


def test_only_the_long_form_names_rules_that_were_never_met(project, run):
    assert "premise" not in run(project, "check")[1]
    assert "rules whose premise never occurs here: " in run(project, "check", "--long")[1]


def test_every_file_is_counted(unreadable, run):
    out = run(unreadable, "check")[1]
    assert out.splitlines()[-1].startswith(
        f"{count(unreadable) - 4} recipes read; 1 not read; "
        "3 not judged until what they use can be read; ")


def test_the_project_is_found_from_a_folder_below_it(faulty, run, monkeypatch, capsys):
    monkeypatch.chdir(faulty / "recipes" / "systems")
    expected = run(faulty, "check")
    assert (main(["check"]), *capsys.readouterr()) == expected
    assert (main(["check", Path(FITTED).name]), *capsys.readouterr())[0] == FINDINGS


def test_the_project_may_be_said_after_the_command(faulty, run, capsys):
    expected = run(faulty, "check")
    assert (main(["check", "--project", str(faulty)]), *capsys.readouterr()) == expected


def test_a_file_whose_part_cannot_be_read(unreadable, run):
    code, out, _ = run(unreadable, "check", unreadable / CONVERSION)
    assert code == UNREAD
    assert RECEIVER in out


@pytest.mark.parametrize("what", ["recipes/parts/nothing-here.yaml", "recipes/none", "empty"])
@pytest.mark.parametrize("form", ["text", "json"])
def test_a_file_that_is_none(project, run, what, form):
    (project / "empty").mkdir()
    code, out, err = run(project, "check", project / what, "--format", form)
    assert (code, err) == (UNREAD, "")
    assert "no-such-file" in out
    assert form == "text" or len(findings(out)) == 1


@pytest.mark.parametrize("command", ["check", "build", "serve"])
def test_a_project_without_recipes(tmp_path, run, command):
    code, out, _ = run(tmp_path, command)
    assert code == UNREAD
    assert "recipes" in out
    assert "--project" in out


def test_a_recipes_folder_without_recipes(tmp_path, run):
    (tmp_path / "recipes").mkdir()
    code, out, _ = run(tmp_path, "check")
    assert code == UNREAD
    assert "no-such-file" in out


@pytest.mark.parametrize("name", [Path(FITTED).stem, FITTED])
def test_states_of_a_standard_system(project, run, name):
    system = project / name if name.endswith(".yaml") else name
    code, text, err = run(project, "states", system)
    assert (code, err) == (CLEAN, "")
    assert "not known" not in text
    assert "E1:control-in" in text
    assert "X1:10" not in text
    code, out, _ = run(project, "states", system, "--format", "json")
    said = json.loads(out)
    assert (code, list(said)) == (CLEAN, ["system", "states"])
    assert text.count("\nstate ") + 1 == len(said["states"])
    assert all(set(row) == {"settings", "positions", "runs", "terminals"}
               for row in said["states"])
    assert any("E1.burner" in row["runs"] for row in said["states"])
    isolated = [row for row in said["states"] if row["settings"]["Q1.switch"] == "off"]
    assert all(not row["runs"] for row in isolated)


def test_states_of_a_found_system_say_what_is_not_known(project, run):
    code, text, _ = run(project, "states", Path(FOUND).stem)
    assert code == CLEAN
    assert "  not known: " in text
    rows = json.loads(run(project, "states", project / FOUND, "--format", "json")[1])["states"]
    assert any(row["terminals"]["K9:valve1-motor"] == "not known" for row in rows)


@pytest.mark.parametrize(("wanted", "said"), [
    ("two-zone-wireless-receiver-cylinder-cutout", "did you mean"),
    ("recipes/systems/nothing.yaml", "no-such-file"),
    (RECEIVER, "wrong-kind"),
    (CONVERSION, "wrong-kind"),
    ("recipes/systems", "no-such-file"),
])
@pytest.mark.parametrize("form", ["text", "json"])
def test_states_of_no_system(project, run, monkeypatch, wanted, said, form):
    monkeypatch.chdir(project)
    code, out, _ = run(project, "states", wanted, "--format", form)
    assert code == UNREAD
    assert said in out
    assert form == "text" or len(findings(out)) == 1


@pytest.mark.parametrize("rule", EVERY_RULE, ids=lambda rule: rule.name)
def test_explain_a_rule(run, tmp_path, rule):
    code, out, err = run(tmp_path, "explain", rule.name)
    assert (code, err) == (CLEAN, "")
    assert out.startswith("# ")
    assert all(basis.text in out for basis in rule.basis)


def test_explain_lists_the_rules(run, tmp_path):
    code, out, _ = run(tmp_path, "explain")
    assert code == CLEAN
    assert [line.split(":")[0] for line in out.splitlines()] == [rule.name for rule in EVERY_RULE]


def test_explain_an_unknown_rule(run, tmp_path):
    code, out, err = run(tmp_path, "explain", "line-meets-neutrall")
    assert (code, out) == (UNREAD, "")
    assert "There is no rule `line-meets-neutrall`." in err
    assert "did you mean `line-meets-neutral`?" in err


def test_the_schema_is_a_schema(run, tmp_path):
    code, out, _ = run(tmp_path, "schema")
    assert code == CLEAN
    jsonschema.Draft7Validator.check_schema(json.loads(out))


def shell(project: Path, words: str, **environment: str) -> subprocess.CompletedProcess[bytes]:
    command = f"'{sys.executable}' -m generator.command_line --project '{project}' {words}"
    return subprocess.run(["bash", "-o", "pipefail", "-c", command], capture_output=True,
                          check=False, env={"PATH": "/usr/bin:/bin", **environment})


@pytest.mark.parametrize("words", [
    f"states {Path(FITTED).stem} | head -1", "schema | head -1", "explain | head -1",
    f"states {Path(FITTED).stem} --format json | head -1", "check | true", "schema | true",
])
def test_a_reader_that_leaves_early_makes_no_noise(project, words):
    assert shell(project, words).stderr == b""


def test_no_progress_where_nobody_watches(project):
    done = shell(project, "check")
    assert (done.returncode, done.stderr) == (CLEAN, b"")
    assert b"\r" not in done.stdout


@pytest.mark.parametrize("words", ["check", f"states {Path(FITTED).stem}", "explain", "schema"])
def test_letters_the_terminal_does_not_know_stop_nothing(faulty, words):
    done = shell(faulty, words, PYTHONIOENCODING="ascii")
    assert done.returncode in (CLEAN, FINDINGS)
    assert done.stderr == b""


def test_a_file_name_that_is_no_text(project):
    done = shell(project, r"check $'\xff.yaml'")
    assert (done.returncode, done.stderr) == (UNREAD, b"")


def test_words_that_are_no_command(tmp_path):
    assert shell(tmp_path, "chekc").returncode == 2
    assert b"Traceback" not in shell(tmp_path, "chekc").stderr
