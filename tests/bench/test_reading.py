"""Tables as students and spreadsheets write them: read, asked about or refused by line and column; nothing put right in silence."""

import os
import random
from pathlib import Path

import numpy as np
import pytest

from gypsumkit.bench import reading
from gypsumkit.bench.columns import COLUMNS
from gypsumkit.bench.decoding import LONGEST_LINE, MOST_BYTES
from gypsumkit.bench.headers import column_of
from gypsumkit.bench.reading import pool_folder, read_bytes, read_file
from gypsumkit.bench.sample import FILE, sample_class
from gypsumkit.problems import Problem

ODD = Path(__file__).with_name("odd_class.csv")


def read(text, encoding="utf-8"):
    return read_bytes(text.encode(encoding), "class.csv")


def asked(found, line, column):
    return next(one for one in (*found.questions, *found.refused) if (one.line, one.column) == (line, column))


# What the odd class holds -------------------------------------------------------------------

def test_the_odd_class_is_read_and_every_slip_is_asked_about():
    found = read_file(ODD)
    assert len(found.records) == 11 and not found.complete
    assert {(one.line, one.column, one.kind) for one in found.questions} == {
        (4, "spread_one_mm", "cm"), (4, "spread_two_mm", "cm"), (5, "water_ml", "swapped"), (6, "final_set_min", "swapped"),
        (7, "powder", "spelling of plaster"), (7, "gloss_loss_min", "s"), (8, "powder_g", "comma")}
    assert [(one.line, one.column) for one in found.refused] == [(11, "16 of the line"), (9, "powder_g"), (10, "spread_one_mm")]
    assert str(asked(found, 4, "spread_one_mm")) == ("Line 4: Spread, one way: 15 mm is narrower than the ring of 35 mm; is it 15 cm = 150 mm?")
    assert "“10o”" in str(asked(found, 9, "powder_g")) and "Is it 4 cm = 40 mm?" in str(asked(found, 10, "spread_one_mm"))


def test_nothing_is_changed_before_an_answer_and_the_answer_changes_just_that():
    found = read_file(ODD)
    before = [found.records.row(place) for place in range(11)]
    assert before[1]["spread_one_mm"] == 15 and before[2]["powder_g"] == 50 and before[3]["final_set_min"] == 10
    assert "powder_g" not in before[5] and "spread_one_mm" not in before[7]      # no single reading: empty until it is answered
    for line, column, changed in ((4, "spread_one_mm", {"spread_one_mm": 150}), (5, "water_ml", {"powder_g": 100, "water_ml": 50}),
                                  (6, "final_set_min", {"final_set_min": 16, "gloss_loss_min": 10}), (7, "powder", {"powder": "model plaster"}),
                                  (7, "gloss_loss_min", {"gloss_loss_min": 13}), (8, "powder_g", {"powder_g": 1234}), (10, "spread_one_mm", {"spread_one_mm": 40})):
        question = asked(found, line, column)
        assert found.accept(question) == 1
        assert question not in (*found.questions, *found.refused)
        before[question.place] = {**before[question.place], **changed}
        assert [found.records.row(place) for place in range(11)] == before


def test_keeping_leaves_the_cell_and_emptying_empties_it():
    found = read_file(ODD)
    kept, emptied = asked(found, 4, "spread_one_mm"), asked(found, 4, "spread_two_mm")
    found.keep(kept)
    found.empty(emptied)
    assert found.records.row(1)["spread_one_mm"] == 15 and "spread_two_mm" not in found.records.row(1)
    with pytest.raises(Problem, match="answered already"):
        found.keep(kept)
    with pytest.raises(Problem, match="nothing to put in"):
        found.accept(asked(found, 9, "powder_g"))


def test_one_answer_for_all_of_a_kind_takes_each_its_own_proposal():
    found = read("powder;spread_one_mm\nmodel plaster;6,5\nmodel plaster;7,5\nmodel plaster;62\nmodel plaster;15\n")
    assert len(found.questions) == 3 and found.accept(found.questions[0], everywhere=True) == 3
    assert list(found.records["spread_one_mm"]) == [65, 75, 62, 150] and not found.questions


def test_units_written_in_cells_and_headers_are_converted():
    found = read_file(ODD)
    row = found.records.row(4)
    assert row["powder_g"] == 100 and row["water_ml"] == 50 and row["ring_diameter_mm"] == 35 and row["spread_one_mm"] == 41
    assert row["crush_load_n"] == 3100 and found.records.row(0)["crush_load_n"] == 3200 and found.records.row(0)["ring_diameter_mm"] == 35


# Headers, separators, encodings -------------------------------------------------------------

@pytest.mark.parametrize("header, column, unit", [
    ("powder_g", "powder_g", None), ("Powder (g)", "powder_g", None), ("POWDER [kg]", "powder_g", "kg"), ("Powder", "powder", None),
    ("Powder weighed, g", "powder_g", None), ("water", "water_ml", None), ("Water (L)", "water_ml", "L"), ("W/P", "water_powder_ratio", None),
    ("W/P (mL per 100 g)", "water_powder_ratio", "mL per 100 g"), ("Spread (cm)", "spread_one_mm", "cm"), ("spread_one_cm", "spread_one_mm", "cm"),
    ("Spread, across", "spread_two_mm", None), ("Gloss (s)", "gloss_loss_min", "s"), ("Load in kN", "crush_load_n", "kN"), ("No.", "record_id", None),
    ("Length change at 2 h (µm)", "length_change_um", None), ("Turns", "turns", None), ("Strength (MPa)", None, None), ("Spread (furlong)", None, None),
])
def test_a_header_is_known_in_the_spellings_of_the_bench(header, column, unit):
    assert column_of(header) == (column, unit)


def test_every_column_is_known_by_its_name_and_by_its_words():
    for name, column in COLUMNS.items():
        assert column_of(name) == (name, None)
        assert column_of(f"{column.words} ({column.unit})" if column.unit else column.words)[0] in (name, "powder_g" if name == "powder" else name)


def test_a_unit_of_another_kind_is_said():
    found = read("powder_g,Spread (g),water_ml\n100,62,50\n")
    assert any("Line 1, column 2" in message and "g is a mass" in message for message in found.messages) and not found.complete
    assert "spread_one_mm" not in found.records.row(0)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"])
@pytest.mark.parametrize("separator", [",", ";", "\t"])
@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
def test_every_usual_way_to_write_a_table_reads_alike(encoding, separator, ending):
    text = separator.join(["powder", "powder_g", "water_ml", "Length change (µm)", "note"]) + ending
    text += separator.join(["model plaster", "100", "50.5", "250", "für Übung"]) + ending
    found = read(text, encoding)
    assert found.records.row(0) == {"powder": "model plaster", "powder_g": 100, "water_ml": 50.5, "length_change_um": 250, "note": "für Übung"}
    assert any("Western European" in message for message in found.messages) == (encoding == "cp1252")
    assert any("UTF-16" in message for message in found.messages) == encoding.startswith("utf-16")


def test_a_decimal_comma_is_read_and_a_point_of_thousands_is_asked_about():
    found = read("powder;powder_g;water_ml\nmodel plaster;100,5;50,25\nmodel plaster;1.234;600\n")
    assert list(found.records["powder_g"][:1]) == [100.5] and found.questions[0].kind == "comma" and np.isnan(found.records["powder_g"][1])
    found.accept(found.questions[0])
    assert found.records["powder_g"][1] == 1234
    # With decimal points in the table the same cell is a plain number.
    assert read("powder;powder_g\nx;1.234\nx;10.5\n").records["powder_g"][0] == 1.234


def test_a_decimal_comma_between_commas_refuses_the_line_and_says_why():
    found = read("powder_g,water_ml,turns\n100,50,180\n100,50,5,180\n")
    assert len(found.records) == 1 and "Line 3" in str(found.refused[0]) and "decimal comma" in str(found.refused[0])


def test_the_water_is_worked_out_from_a_ratio():
    found = read("powder;powder_g;W/P\nmodel plaster;100;0,5\nmodel plaster;50;50 mL per 100 g\nmodel plaster;;0.5\nmodel plaster;100;50\n")
    assert list(found.records["water_ml"][:2]) == [50, 25] and any("worked out" in message for message in found.messages)
    assert [one.line for one in found.refused] == [4, 5] and "looks like mL per 100 g" in found.refused[1].sentence
    assert read("powder_g;W/P (mL per 100 g)\n100;45\n").records["water_ml"][0] == 45


def test_titles_above_comments_and_empty_lines_are_passed_over_and_lines_counted_as_in_the_file():
    found = read("# a comment\nClass of spring,,\n\nsep=,\npowder_g,water_ml\n100,50\n\n,\n100,x\n")
    assert len(found.records) == 2 and list(found.lines) == [6, 9] and found.refused[0].line == 9
    assert any("Line 2 stands above" in message for message in found.messages)


def test_quotation_marks_hold_separators_and_lines_and_an_open_one_swallows_nothing():
    found = read('powder_g,water_ml,note\n100,50,"a, b\nand c"\n100,51,"never closed\n100,52,x\n100,53,5" ring\n')
    assert list(found.records["water_ml"]) == [50, 51, 52, 53]
    assert found.records["note"][0] == "a, b and c" and found.records["note"][3] == '5" ring'


# What is hostile ----------------------------------------------------------------------------

@pytest.mark.parametrize("raw, says", [
    (b"", "is empty"), (b"\xef\xbb\xbf \r\n\n", "is empty"), (b"\x00" * 500, "is empty"), (b"# only a comment\n", "no line of column names"),
    (b"PK\x03\x04" + bytes(range(256)) * 9, "workbook"), (b"\xd0\xcf\x11\xe0" + bytes(999), "workbook"),
    (b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 9, "not a text file .line 2, place 1"), (random.Random(1).randbytes(5000), "not a text file"),
    (b"1,2,3\n4,5,6\n", "line 1, column 1: “1” is no column"), (b"foo,bar\n1,2\n", "“foo” is no column of the record"),
    (b"powder_g," * 1_000_000 + b"\n1\n", "line 1, column 501: this line has 1,000,001 columns"),
    (b"powder_g,water_ml\n100,50\n" * 200_000, "lines; at most"),
])
def test_a_file_that_is_no_table_is_refused_in_one_sentence(raw, says):
    with pytest.raises(Problem, match=says) as caught:
        read_bytes(raw, "class.csv")
    assert str(caught.value).startswith("class.csv") and "\n" not in str(caught.value) and len(str(caught.value)) < 400


def test_only_a_header_is_said():
    found = read("powder,powder_g\n")
    assert len(found.records) == 0 and "There is a header but no row below it." in found.messages


def test_a_line_of_a_million_columns_is_left_out_and_the_others_read():
    found = read("powder_g,water_ml\n100,50\n" + "1," * 1_000_000 + "\n100,51\n")
    assert list(found.records["water_ml"]) == [50, 51] and found.refused[0].line == 3 and "1,000,001 columns" in found.refused[0].sentence


def test_a_cell_of_200_mb_is_named_by_line_and_column_and_never_read_whole(tmp_path):
    path = tmp_path / "big.csv"
    with open(path, "wb") as file:
        file.write(b"powder_g,water_ml,note\n100,50,fine\n100,51,")
        file.truncate(200_000_000)              # the rest is a hole in the file, read as zeros
    with pytest.raises(Problem):
        read_file(path)
    with open(path, "wb") as file:
        file.write(b"powder_g,water_ml,note\n100,50,fine\n100,51,")
        for _ in range(50):
            file.write(b"x" * 1_000_000)
    with pytest.raises(Problem, match="line 3, column 3 holds a cell of 32 MB or more") as caught:
        read_file(path)
    assert "50 MB; at most 32 MB" in str(caught.value)
    assert len(reading._bytes_of(path)[0]) == MOST_BYTES + 1


def test_signs_that_are_no_letters_refuse_the_cell_and_propose_it_without_them():
    found = read("powder_g,water_ml,note\n100,50,a\x00b\n1\x0000,51,fine\n" + "100,50,fine\n" * 50)
    assert [(one.line, one.column) for one in found.refused] == [(3, "powder_g"), (2, "note")]
    found.accept(asked(found, 2, "note"))
    assert found.records["note"][0] == "ab" and np.isnan(found.records["powder_g"][1])


def test_formulas_are_text():
    found = read("powder_g,water_ml,note\n=1+1,50,=cmd|' /C calc'!A0\n100,50,'-5\n")
    assert found.records["note"][0] == "=cmd|' /C calc'!A0" and found.records["note"][1] == "-5" and found.refused[0].column == "powder_g"
    assert any("never run" in message for message in found.messages)


def test_what_python_alone_would_take_for_a_number_is_refused():
    for cell in ("nan", "inf", "1_000", "1e400", "0x10", "--5", "e"):
        found = read(f"powder_g,water_ml\n{cell},50\n")
        assert "powder_g" not in found.records.row(0) and len(found.refused) == 1, cell


def test_many_doubts_are_counted_and_memory_stays_bounded():
    found = read("powder_g,spread_one_mm\n" + "100,6.2\n" * 5000)
    assert len(found.questions) == reading_most() and any("3,000 more cells look unusual" in message for message in found.messages)
    found = read("powder_g,water_ml\n" + "x,50\n" * 5000)
    assert len(found.refused) == reading_most() and any("3,000 more cells were refused" in message for message in found.messages)


def reading_most():
    from gypsumkit.bench.table import MOST_QUESTIONS
    return MOST_QUESTIONS


def test_what_is_no_ordinary_file_is_refused(tmp_path):
    cases = [("none.csv", "no file none.csv"), (".", "folder"), ("a\0b.csv", "cannot be read")]
    if hasattr(os, "mkfifo"):
        os.mkfifo(tmp_path / "pipe.csv")
        cases.append(("pipe.csv", "no ordinary file"))
    for name, says in cases:
        with pytest.raises(Problem, match=says):
            read_file(tmp_path / name)


def test_advice_is_bounded_so_that_a_broken_table_takes_no_time():
    words = [f"w{number:x}q" for number in range(20_000)]
    found = read("powder_g,water_ml,powder,mixing\n" + "".join(f"{word},12 {word},{word},{word}\n" for word in words) + "100 g,5 cL,stone,x\n7 kg,50 mL,stone,x\n")
    assert found.records["powder_g"][-1] == 7000 and found.records["water_ml"][-1] == 50, "a plain unit is still read"
    assert len(found.records) == 20_002
    read(",".join(["powder_g", *words[:400]]) + "\n100\n")


def test_lines_that_hold_only_a_number_are_no_mixes():
    found = read("No.,powder_g,water_ml\n1,100,50\n2,,\n3,,\n")
    assert len(found.records) == 1 and any("nothing but a number of a mix are left out: 2" in message for message in found.messages) and found.complete


# Fuzz ---------------------------------------------------------------------------------------

def _mutated(chance, raw):
    raw = bytearray(raw)
    for _ in range(chance.randint(1, 6)):
        place = chance.randrange(len(raw) + 1)
        what = chance.randrange(6)
        if what == 0:
            raw[place:place + chance.randint(1, 40)] = b""
        elif what == 1:
            raw[place:place] = chance.randbytes(chance.randint(1, 8))
        elif what == 2:
            raw[place:place] = chance.choice([b",", b";", b"\t", b'"', b'""', b"\n", b"\r", b"\x00", b"\xff\xfe", b"\xef\xbb\xbf", b"=1+1", b"-", b"'", b"1,234", b"e999", b"%s{}"])
        elif what == 3 and place < len(raw):
            raw[place] = chance.randrange(256)
        elif what == 4:
            raw = raw[:place]
        else:
            raw += raw[place:place + 200]
    return bytes(raw)


def test_thousands_of_broken_tables_raise_nothing_but_a_problem():
    chance = random.Random(20260325)
    seeds = [b"\n".join(ODD.read_bytes().split(b"\n")[:7]), b"\n".join(FILE.read_bytes().split(b"\n")[:5]), ODD.read_text(encoding="utf-8")[:600].encode("utf-16")]
    outcomes = {"read": 0, "refused": 0}
    for _ in range(2000):
        raw = _mutated(chance, chance.choice(seeds))
        try:
            found = read_bytes(raw, "class.csv")
        except Problem as problem:
            assert "\n" not in str(problem).strip() or len(str(problem)) < 600
            outcomes["refused"] += 1
            continue
        outcomes["read"] += 1
        assert len(found.lines) == len(found.records)
        for question in [*found.questions, *found.refused]:
            assert str(question) and question.yes and question.no
            if question.proposal:
                found.accept(question)
        for name, column in COLUMNS.items():
            if column.is_number:
                value = found.records[name]
                value = value[~np.isnan(value)]
                assert np.all((value >= column.possible[0]) & (value <= column.possible[1]))
    assert outcomes["read"] > 1000 and outcomes["refused"] > 50


def test_damage_in_one_line_loses_no_other_row():
    chance = random.Random(7)
    lines = [line for line in FILE.read_bytes().split(b"\n") if line][1:]
    whole = sample_class()
    for _ in range(150):
        hurt = chance.randrange(1, len(lines))
        junk = bytes(chance.choice(b'",;\t\'=x1.\x00\xff ') for _ in range(chance.randint(1, 12)))
        place = chance.randrange(len(lines[hurt]) + 1)
        broken = [*lines[:hurt], lines[hurt][:place] + junk + lines[hurt][place:], *lines[hurt + 1:]]
        found = read_bytes(b"\n".join(broken), "class.csv")
        got = {found.records.row(at)["record_id"]: found.records.row(at) for at in range(len(found.records)) if found.lines[at] != hurt + 1}
        for at in range(len(whole)):
            if at + 1 != hurt:
                assert got[whole["record_id"][at]] == whole.row(at), (hurt, junk)


# Pooling ------------------------------------------------------------------------------------

@pytest.mark.skipif(os.name == "nt", reason="links need rights there, and there are no pipes")
def test_a_folder_is_pooled_in_the_order_of_names_and_nothing_stops_it(tmp_path):
    outside = tmp_path / "outside.csv"
    outside.write_text("powder_g,water_ml\n1,1\n")
    folder = tmp_path / "class"
    (folder / "sub").mkdir(parents=True)
    (folder / "b.csv").write_text("record_id;powder;powder_g;water_ml\n1;model plaster;100;50\n2;model plaster;100;51\n", encoding="utf-16")
    (folder / "A.csv").write_text("powder,powder_g,water_ml,made_by\nmodel plaster,100,52,\nmodel plaster,100,53,bench 9\n")
    (folder / "c.csv").write_bytes((folder / "b.csv").read_bytes())
    (folder / "d.csv").write_text("record_id,powder,powder_g,water_ml\n1,model plaster,100,50\n2,model plaster,100,55\n")
    (folder / "e.csv").write_bytes(random.Random(2).randbytes(999))
    (folder / "bench-earlier.csv").write_text("record_id,powder_g\n1,1\n")
    (folder / "f.pdf").write_text("x")
    (folder / ".hidden.csv").write_text("x")
    (folder / "g.csv").symlink_to(outside)
    (folder / "h.csv").symlink_to(folder / "none.csv")
    os.mkfifo(folder / "i.csv")
    pooled = pool_folder(folder)
    assert list(pooled.records["water_ml"]) == [52, 53, 50, 51, 55]
    assert list(pooled.records["made_by"]) == ["A", "bench 9", "b", "b", "d"]
    said = "\n".join(pooled.messages)
    for part in ("c.csv is the same file as b.csv", "d.csv: 1 row(s) stand elsewhere", "e.csv is left out: e.csv is not a text file", "bench-earlier.csv is left out",
                 "f.pdf is left out", "g.csv is left out: it is a link", "1 folder(s) inside", "i.csv is left out"):
        assert part in said
    assert [file.name for file in pooled.files if file.read] == ["A.csv", "b.csv", "d.csv"]
    assert pool_folder(folder).messages == pooled.messages


def test_a_folder_without_a_table_is_refused(tmp_path):
    for make in (lambda: None, lambda: (tmp_path / "x.pdf").write_text("x"), lambda: (tmp_path / "x.csv").write_text("")):
        make()
        with pytest.raises(Problem, match="no table|No table"):
            pool_folder(tmp_path)
    with pytest.raises(Problem, match="cannot be read"):
        pool_folder(tmp_path / "none")


def test_rows_alike_without_a_number_are_two_mixes(tmp_path):
    (tmp_path / "a.csv").write_text("powder,powder_g,water_ml\nmodel plaster,100,50\nmodel plaster,100,50\n")
    assert len(pool_folder(tmp_path).records) == 2


def test_a_giant_file_does_not_stop_the_class(tmp_path):
    (tmp_path / "a.csv").write_text("powder_g,water_ml\n100,50\n")
    with open(tmp_path / "b.csv", "wb") as file:
        file.write(b"powder_g,water_ml\n")
        file.truncate(3_000_000_000)
    pooled = pool_folder(tmp_path)
    assert len(pooled.records) == 1 and "b.csv is left out" in pooled.messages[-1]
    assert len(reading._bytes_of(tmp_path / "b.csv")[0]) == MOST_BYTES + 1, "it is not read to its end"


def test_longest_line_is_a_bound_that_no_row_of_ours_meets():
    assert max(map(len, FILE.read_bytes().split(b"\n"))) * 100 < LONGEST_LINE
