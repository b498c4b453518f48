"""The roster is read with care: one clear sentence, with its line, for whatever is wrong."""

import pytest

from gypsumkit.marking.roster import MOST_CANDIDATES, Candidate, read_roster
from gypsumkit.problems import Problem

HEAD = "candidate_number,name,extra_time_percent\n"


def read(tmp_path, text):
    (tmp_path / "roster.csv").write_bytes(text if isinstance(text, bytes) else text.encode())
    return read_roster(tmp_path)


@pytest.mark.parametrize("text", [
    HEAD + "1047,Ines Invented,25\n1048,\"Okoro, B.\",\n",
    "\ufeff" + HEAD.replace(",", ";") + "1047;Ines Invented;25\n1048;Okoro, B.;\n",
    HEAD.replace(",", "\t") + "1047\tInes Invented\t25 %\r\n\r\n1048\tOkoro, B.\t\r\n",
    "Candidate number,Name,Extra time %\n1047,Ines Invented,\"25,0\"\n1048,\"Okoro, B.\",0\n",
])
def test_tables_as_spreadsheets_write_them(tmp_path, text):
    assert read(tmp_path, text) == (Candidate("1047", "Ines Invented", 25.0), Candidate("1048", "Okoro, B.", 0.0))


def test_utf_16_and_western_text(tmp_path):
    assert read(tmp_path, (HEAD + "1047,Zoë,\n").encode("utf-16"))[0].name == "Zoë"
    assert read(tmp_path, (HEAD + "1047,Zoë,\n").encode("cp1252"))[0].name == "Zoë"
    assert read(tmp_path, HEAD + "1047,Zoe\u0308,\n")[0].name == "Zoë"                    # composed as most computers write it


def test_names_may_be_left_out(tmp_path):
    assert read(tmp_path, "candidate_number\n1047\nA-17b\n") == (Candidate("1047", "", 0.0), Candidate("A-17b", "", 0.0))


@pytest.mark.parametrize("text, says", [
    (HEAD + "1047,A,\n1048,B,\n1047,C,\n", "line 4: the candidate number 1047 stands there twice (see line 2)"),
    (HEAD + "A17,A,\na17,B,\n", "line 3: the candidate number a17 is too like A17"),
    (HEAD + "47,A,\n0047,B,\n", "line 3: the candidate number 0047 is too like 47"),
    (HEAD + "1O47,A,\n1047,B,\n", "line 3: the candidate number 1047 is too like 1O47"),
    (HEAD + "l047,A,\n1047,B,\n", "line 3"),
    (HEAD + ",Ines,\n", "line 2: the candidate number is missing"),
    (HEAD + "１０４７,A,\n", "line 2: the candidate number “１０４７” has a sign (fullwidth digit one)"),
    (HEAD + "1О47,A,\n", "cyrillic capital letter o"),
    (HEAD + "1047\u200b,A,\n", "zero width space"),
    (HEAD + "../x,A,\n", "line 2: “../x” is not a candidate number"),
    (HEAD + "..,A,\n", "not a candidate number"),
    (HEAD + "C:\\x,A,\n", "not a candidate number"),
    (HEAD + "/etc/passwd,A,\n", "not a candidate number"),
    (HEAD + "a/b,A,\n", "not a candidate number"),
    (HEAD + "-rf,A,\n", "not a candidate number"),
    (HEAD + ".hidden,A,\n", "not a candidate number"),
    (HEAD + "con,A,\n", "not a candidate number"),
    (HEAD + "1047.0,A,\n", "without the point it is 1047"),
    (HEAD + "10 47,A,\n", "not a candidate number"),
    (HEAD + "1" * 21 + ",A,\n", "not a candidate number"),
    (HEAD + "=1+1,A,\n", "not a candidate number"),
    (HEAD + "1047,\"=HYPERLINK(\"\"x\"\")\",\n", "line 2: the name begins with =, which a spreadsheet would run"),
    (HEAD + "1047,+49 Ines,\n", "the name begins with +"),
    (HEAD + "1047,@sum,\n", "the name begins with @"),
    (HEAD + "1047,'=1,\n", "the name begins with ="),
    (HEAD + "1047,Ines\u202eevil,\n", "right-to-left override"),
    (HEAD + "1047,Ines\x07,\n", "cannot be seen"),
    (HEAD + "1047," + "x" * 121 + ",\n", "121 letters"),
    (HEAD + "1047,A,lots\n", "line 2: the extra time “lots”"),
    (HEAD + "1047,A,-5\n", "extra time"),
    (HEAD + "1047,A,300\n", "extra time"),
    (HEAD + "1047,A,nan\n", "extra time"),
    (HEAD + "1047,Okoro, B.,\n", "line 2: there are 4 cells, and 3 columns"),
    (HEAD + "1047,\"Ines\n1048,B,\n", "quotation mark"),
    (HEAD + "1047,\"Ines\nInvented\",\n", "line 2: a cell goes on in the next line"),
    (HEAD, "no candidates yet"),
    ("", "is empty"),
    ("name,extra_time_percent\nInes,\n", "line 1: the column candidate_number is missing"),
    ("candidate_number,number\n1,1\n", "two columns say candidate_number"),
    ("candidate_number,shoe size\n1,1\n", "“shoe size” is not a column"),
    (b"PK\x03\x04 and so on", "workbook"),
    (b"\x00\x01\x02\x03" * 100, "not a text file"),
])
def test_what_is_wrong_is_said_in_one_sentence(tmp_path, text, says):
    with pytest.raises(Problem) as refused:
        read(tmp_path, text)
    assert says in str(refused.value) and "\n" not in str(refused.value) and str(refused.value).startswith("roster.csv")


def test_no_file_a_folder_and_a_crowd(tmp_path):
    with pytest.raises(Problem, match="There is no roster.csv"):
        read_roster(tmp_path)
    (tmp_path / "roster.csv").mkdir()
    with pytest.raises(Problem, match="no ordinary file"):
        read_roster(tmp_path)
    (tmp_path / "roster.csv").rmdir()
    with pytest.raises(Problem, match="more than 20,000 candidates"):
        read(tmp_path, "candidate_number\n" + "\n".join(f"N{place:06d}x" for place in range(MOST_CANDIDATES + 1)))
    with pytest.raises(Problem, match="8 MB"):
        read(tmp_path, HEAD + "1047," + "x" * 9_000_000)
