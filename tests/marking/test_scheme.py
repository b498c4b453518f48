"""The mark scheme keeps what was asked and the keys as they were, for its owner alone."""

import json
import os
import stat

import pytest

from gypsumkit.marking import scheme as schemes
from gypsumkit.marking.drawing import seed_for
from gypsumkit.marking.papers import question_text
from gypsumkit.marking.scheme import Scheme, fingerprint, redrawn, secret_of
from gypsumkit.marking.task_bank import find_task
from gypsumkit.problems import Problem

TASK_IDS = ("T02-1", "T08-4", "T12-3")


def made(secret=b"x" * 32):
    scheme = Scheme("first", TASK_IDS, {}, "about")
    for number in ("1047", "1048"):
        drawn = [find_task(one).drawn(seed_for(secret, number, one, "first")) for one in TASK_IDS]
        scheme.add(number, drawn, [question_text(place, one) for place, one in enumerate(drawn, start=1)])
    return scheme


def test_what_is_saved_is_loaded_and_draws_the_same(tmp_path):
    scheme = made()
    scheme.save(tmp_path)
    again = Scheme.load(tmp_path)
    assert (again.set_name, again.task_ids, again.papers, again.description) == ("first", list(TASK_IDS), scheme.papers, "about")
    assert again.candidates == ["1047", "1048"]
    for number in again.candidates:
        drawn = again.drawn(number)
        assert [one.task_id for one in drawn] == list(TASK_IDS)
        assert [fingerprint(question_text(place, one)) for place, one in enumerate(drawn, start=1)] == again.fingerprints(number)
        assert all(sum(mark.marks for mark in one.mark(one.keys())) == one.marks for one in drawn)
        assert [redrawn(*entry).seed for entry in again.entries(number)] == [one.seed for one in drawn]
    assert again.drawn("1047")[0].numbers != again.drawn("1048")[0].numbers
    scheme.save(tmp_path)
    first = (tmp_path / "private" / "scheme.json").read_bytes()
    Scheme.load(tmp_path).save(tmp_path)
    assert (tmp_path / "private" / "scheme.json").read_bytes() == first


@pytest.mark.skipif(os.name == "nt", reason="modes of files are of other systems")
def test_only_the_owner_reads_it(tmp_path):
    made().save(tmp_path)
    secret_of(tmp_path)
    assert stat.S_IMODE((tmp_path / "private").stat().st_mode) == 0o700
    for name in ("scheme.json", "secret.txt"):
        assert stat.S_IMODE((tmp_path / "private" / name).stat().st_mode) == 0o600
    made().save(tmp_path)
    assert stat.S_IMODE((tmp_path / "private" / "scheme.json").stat().st_mode) == 0o600


def test_the_secret_is_made_once_and_a_damaged_one_is_never_replaced(tmp_path):
    first = secret_of(tmp_path)
    assert len(first) == 32 and secret_of(tmp_path) == first
    (tmp_path / "other").mkdir()
    assert secret_of(tmp_path / "other") != first
    (tmp_path / "private" / "secret.txt").write_text("hello\n")
    with pytest.raises(Problem, match="holds no secret any more"):
        secret_of(tmp_path)
    assert (tmp_path / "private" / "secret.txt").read_text() == "hello\n"


def test_a_key_that_is_computed_otherwise_now_is_refused_in_one_sentence(tmp_path):
    scheme = made()
    scheme.papers["1047"][0][2]["b"] = "1 g"
    with pytest.raises(Problem, match=r"T02-1 \(b\): the key computed now is .* the one in the mark scheme is “1 g”"):
        scheme.drawn("1047")
    scheme.drawn("1048")
    del scheme.papers["1048"][0][2]["b"]
    with pytest.raises(Problem, match="is none"):
        scheme.drawn("1048")
    with pytest.raises(Problem, match="no candidate 9999"):
        scheme.drawn("9999")


@pytest.mark.parametrize("text, says", [("{}", "damaged"), ("[1]", "damaged"), ("{", "damaged"), ("\xff", "damaged"), ('{"form": 7}', "another version"), ("[" * 100_000, "damaged"),
                                        ('{"form": 1, "set": "first", "tasks": ["T02-1"], "description": "", "papers": {"1": [[1, 2]]}}', "damaged"),
                                        ('{"form": 1, "set": "first", "tasks": ["T02-1"], "description": "", "papers": {"1": []}}', "damaged")])
def test_a_damaged_scheme_is_said_in_one_sentence(tmp_path, text, says):
    (tmp_path / "private").mkdir()
    (tmp_path / "private" / "scheme.json").write_bytes(text.encode("latin-1"))
    with pytest.raises(Problem, match=says) as refused:
        Scheme.load(tmp_path)
    assert "\n" not in str(refused.value)


def test_no_scheme_is_said(tmp_path):
    with pytest.raises(Problem, match="There is no mark scheme"):
        Scheme.load(tmp_path)


@pytest.mark.parametrize("one, other, same", [("a\nb", "a\r\nb\r\n", True), ("a  \nb", "a\nb\n\n", True), ("a\nb", "a\nc", False), ("5 g", "6 g", False)])
def test_a_fingerprint_changes_with_the_text_and_not_with_line_ends(one, other, same):
    assert (fingerprint(one) == fingerprint(other)) is same and len(fingerprint(one)) == 16


def test_the_form_of_the_file_is_open(tmp_path):
    made().save(tmp_path)
    text = (tmp_path / "private" / "scheme.json").read_text(encoding="utf-8")
    read = json.loads(text)
    assert read["form"] == schemes.FORM and set(read) == {"form", "set", "tasks", "description", "papers"}
    assert sum(line.startswith('  "10') for line in text.splitlines()) == 2          # a line for each candidate
