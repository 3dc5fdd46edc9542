"""A conversion is judged in every combination of its choices, and says why one is not offered."""

from __future__ import annotations

from generator.checks.subject import JobSubject
from generator.judging.judged import Judged
from generator.judging.recipes import judge
from generator.recipe.library import Library
from tests.checks.edited import CONVERSION, FITTED, RECIPES
from tests.judging.written import written

OFFERS = """
offers:
  soft-flex:
    why: A flex that softens.
    replace:
      cables:
        W5:
          is: flex-3-core-0.75
          length: 2
          cores:
            BN: {from: X1:7, to: B1:common, does: "switched live, hot water"}
            BU: {from: F2:out, to: X1:8, sleeve: BN, does: "switched live, hot-water valve"}
            GNYE: {from: X1:12, to: B1:E, does: earth}
  labelled:
    why: The owner wants to know.
    add:
      notices: [{at: K1, text: Hot water and heating.}]
"""
CHOICES = """
choices:
  label:
    asks: Is a label wanted?
    options:
      none: {says: No label.}
      label:
        says: A label.
        fitted: [labelled]
        adds:
          look: [Is there room for a label?]
          record: [What the label says]
          expect:
            - name: Nothing calls
              when: {K1.heating: "off", K1.hot-water: "off"}
              then: {M1: shut}
              safety: true
  flex:
    asks: Which flex?
    options:
      old: {says: The old one.}
      soft: {says: A soft one., fitted: [soft-flex]}
"""
REFUSED = """
not-offered:
  - when: {flex: soft}
    because: It softens.
    fails: cable-softens
"""


def judged(words: str, offers: str = OFFERS) -> tuple[Judged, ...]:
    library = Library(RECIPES)
    fitted = (RECIPES / FITTED).read_text(encoding="utf-8")
    written(library, FITTED, fitted.rstrip() + offers)
    conversion = (RECIPES / CONVERSION).read_text(encoding="utf-8")
    return judge(library, written(library, CONVERSION, conversion.rstrip() + words))


def test_every_combination_that_is_offered_is_judged_under_its_own_name():
    usual, label = judged(CHOICES + REFUSED)
    assert not usual.findings + label.findings
    assert label.source.name == f"{usual.source.name}--label"
    assert isinstance(usual.subject, JobSubject)
    assert isinstance(label.subject, JobSubject)
    assert label.subject.job.conversion.name.endswith(": A label")
    assert label.subject.job.of == usual.subject.job.of == usual.source.name
    assert label.subject.job.options == {"label": "label", "flex": "old"}
    labels = (len(each.subject.job.fitted.system.notices) for each in (usual, label)
              if isinstance(each.subject, JobSubject))
    assert [*labels] == [7, 8]


def test_words_of_an_option_come_to_the_others_and_cases_in_their_place():
    usual, label = (each.subject.job.conversion for each in judged(CHOICES + REFUSED)
                    if isinstance(each.subject, JobSubject))
    assert [*label.fits.look] == [*usual.fits.look, "Is there room for a label?"]
    assert [*label.record] == [*usual.record, "What the label says"]
    assert [case.name for case in label.expect] == [case.name for case in usual.expect]
    assert label.expect[0].then == {"M1": "shut"}
    assert usual.expect[0].then != label.expect[0].then


def test_a_combination_that_is_not_offered_is_tried_and_says_what_is_wrong():
    usual, _ = judged(CHOICES + REFUSED)
    refused = {refusal.says: refusal for refusal in usual.refusals}
    assert set(refused) == {("A soft one.",), ("A label.", "A soft one.")}
    for refusal in refused.values():
        assert refusal.because == "It softens."
        assert {finding.rule for finding in refusal.findings} == {"cable-softens"}


def test_what_only_one_option_does_wrong_names_the_option_and_the_change():
    usual, *_ = judged(CHOICES)
    softens = [finding for finding in usual.findings if finding.rule == "cable-softens"]
    assert softens
    conversion = (RECIPES / CONVERSION).read_text(encoding="utf-8").rstrip() + CHOICES
    option = next(i for i, text in enumerate(conversion.splitlines(), 1) if "soft:" in text)
    for finding in softens:
        assert (f"recipes/{CONVERSION}", option) in {(p.file, p.line) for p in finding.places}
        assert finding.places[0].text.strip() in {
            "W5:", "is: flex-3-core-0.75"}, finding.places[0]


def test_a_refusal_that_nothing_is_wrong_with_is_a_finding():
    usual, *_ = judged(CHOICES + REFUSED.replace("cable-softens", "earth-missing"))
    assert {finding.rule for finding in usual.findings} == {"refusal-without-fault"}
    assert "`cable-softens`" in usual.findings[0].found


def test_a_change_that_is_not_offered_is_told_at_the_option():
    usual, *_ = judged(CHOICES.replace("[labelled]", "[labeled]") + REFUSED)
    (finding,) = {each for each in usual.findings if each.rule == "unknown-change"}
    assert finding.places[0].text.strip() == "fitted: [labeled]"
    assert finding.hint == "did you mean `labelled`?"


def test_what_one_option_does_wrong_is_not_told_again_with_every_other_option():
    usual, *_ = judged(CHOICES)
    softens = [finding for finding in usual.findings if finding.rule == "cable-softens"]
    assert len(softens) == len({finding.message for finding in softens})


def test_a_system_with_offered_changes_says_so_in_its_name():
    usual, label = (each.subject.job.fitted.system.name for each in judged(CHOICES + REFUSED)
                    if isinstance(each.subject, JobSubject))
    assert label == f"{usual} (with: labelled)"


def test_a_change_that_is_asked_for_twice_is_told_once():
    usual, *_ = judged(CHOICES.replace("[labelled]", "[labelled, labelled]"))
    told = [finding for finding in usual.findings if finding.rule == "doubled-name"]
    assert [finding.places[0].note for finding in told] == ["again here"]


def test_a_rule_that_there_is_not_cannot_refuse():
    usual, *_ = judged(CHOICES + REFUSED.replace("cable-softens", "cable-soften"))
    assert {finding.rule for finding in usual.findings} == {"unknown-rule"}
    assert usual.findings[0].hint == "did you mean `cable-softens`?"
