"""The sample class is what its script writes, reads without a question, and its planted faults stand where the script says."""

import numpy as np

from gypsumkit.bench.doubts import doubts
from gypsumkit.bench.reading import read_file
from gypsumkit.bench.sample import FILE, sample_class
from gypsumkit.powders import POWDERS
from tests.bench.make_sample_class import INVENTED, LEFT_EMPTY, OLD_POWDER, ROUNDS, STUDENTS, TOO_MUCH_WATER, as_csv, rows


def test_the_script_writes_the_shipped_file():
    assert FILE.read_bytes() == as_csv(rows())


def test_another_seed_gives_another_class():
    assert as_csv(rows(seed=1)) != FILE.read_bytes()


def test_it_says_that_it_is_invented():
    assert FILE.read_text(encoding="utf-8").startswith(INVENTED) and "Nothing here was measured" in INVENTED
    class_ = sample_class()
    assert set(class_["note"]) == {"invented"} and all(lot.startswith("INVENTED") for lot in class_["lot"])


def test_it_reads_without_a_question():
    read = read_file(FILE)
    assert read.complete and not read.questions and not read.refused and doubts(read.records)[1] == 0
    assert len(read.records) == STUDENTS * ROUNDS and set(read.records["powder"]) < set(POWDERS) and len(set(read.records["powder"])) == 3


def test_the_planted_faults_stand_out_in_the_direction_of_their_cause():
    class_ = sample_class()
    for number, more in ((TOO_MUCH_WATER, "spread_mm"), (OLD_POWDER, "final_set_min")):
        one = list(class_["record_id"]).index(str(number))
        alike = (class_["powder"] == class_["powder"][one]) & (class_["water_ml"] == class_["water_ml"][one])
        alike[one] = False
        value = class_.spread_mm if more == "spread_mm" else class_[more]
        others, strengths = value[alike & np.isfinite(value)], class_.strength_mpa[alike & np.isfinite(class_.strength_mpa)]
        assert value[one] > others.mean() + 4 * others.std(ddof=1)
        assert class_.strength_mpa[one] < strengths.min()


def test_the_empty_cells_are_those_the_script_names():
    class_ = sample_class()
    for number, names in LEFT_EMPTY.items():
        row = class_.row(list(class_["record_id"]).index(str(number)))
        assert not set(names) & set(row)
    empty = sum(value == "" or value != value for name in ("spread_two_mm", "final_set_min", "crush_load_n") for value in class_[name])
    assert empty == sum(name in names for names in LEFT_EMPTY.values() for name in ("spread_two_mm", "final_set_min", "crush_load_n"))
