"""The explorer of own data: the reader's own records, the invented sample class or a folder of a class, against the library."""

from gypsumkit.bench.book import Book
from gypsumkit.bench.own_data import ALL_POWDERS, compare
from gypsumkit.bench.records import Records
from gypsumkit.bench.sample import sample_class
from gypsumkit.figures.own_data_scene import LIMITS, own_data_scene
from gypsumkit.launch.workspace import work_folder
from gypsumkit.live.controls import choice, tick_box
from gypsumkit.live.explorer import Explorer, button
from gypsumkit.powders import POWDERS
from gypsumkit.problems import Problem

OWN, SAMPLE, CLASS = "my own records", "invented sample class", "a folder of the class"
CLASS_FOLDER = "class"
QUANTITIES = (("ring spread", "spread_mm"), ("strength", "strength_mpa"), ("loss of gloss", "gloss_loss_min"), ("final set", "final_set_min"),
              ("expansion", "expansion_percent"))
SAMPLE_SAID = "Invented sample class: its numbers come from the library with scatter of ours, so they confirm nothing."


def own_records():
    """Return the reader's own records; none when nothing was recorded yet."""
    return Book().records()


def class_records():
    """Return the records of all files in the folder of the class, and what was said about them.

    Raises
    ------
    Problem
        When there is no such folder or nothing in it can be read.
    """
    from gypsumkit.bench.reading import pool_folder
    folder = work_folder() / CLASS_FOLDER
    if not folder.is_dir():
        raise Problem(f"There is no folder “{CLASS_FOLDER}” in your work folder: make it, put the files of the class into it, and press “Read again”.")
    return pool_folder(folder)


class OwnDataExplorer(Explorer):
    """A choice of whose data, quantity and powder, and a box to leave an outlier out of the fits.

    Parameters
    ----------
    whose : str
        Whose data at first.
    quantity : str
        A key of `gypsumkit.bench.own_data.MEASURED`.
    of_powder : str
        A powder, or "all powders".
    **rest
        `question`, `prediction` and `asked` as for `Explorer`.
    """

    can_pin = False

    def __init__(self, whose=OWN, quantity="spread_mm", of_powder="model plaster", **rest):
        self._read = {}
        self._compared = {}
        super().__init__({
            "whose": choice("Data", (OWN, SAMPLE, CLASS), whose),
            "quantity": choice("Quantity", QUANTITIES, quantity),
            "of_powder": choice("Of which powder", (ALL_POWDERS, *POWDERS), of_powder),
            "without": tick_box("fit without the outlier"),
        }, LIMITS, **rest)
        again = button("Read again", "Read the records again, after something was added")
        again.on_click(self.guard(self.read_again))
        self.add_buttons([again])

    def fit(self, name):
        """Read afresh when other data are chosen; say what was found."""
        if name != "whose":
            return ""
        self._forget()
        return self.data()[2]

    def read_again(self):
        """Read the records again, and show them."""
        self._forget()
        self.update()
        self.show_message(self.data()[2] or f"Read again: {len(self.data()[0])} mixes.")

    def _forget(self):
        self._read.clear()
        self._compared.clear()

    def data(self):
        """Return the records that are shown, whose they are in a sentence, and a message for the reader."""
        whose = self.whose.value
        if whose not in self._read:
            self._read[whose] = self._read_now(whose)
        return self._read[whose]

    def _read_now(self, whose):
        if whose == SAMPLE:
            return sample_class(), SAMPLE_SAID, ""
        try:
            if whose == OWN:
                records, message = own_records(), ""
            else:
                pooled = class_records()
                records, message = pooled.records, " ".join(map(str, pooled.messages))
        except Problem as problem:
            return sample_class(), f"The data could not be read, so the sample class is shown. {SAMPLE_SAID}", str(problem)
        if not len(records):
            missing = "You have no own records yet" if whose == OWN else "There is no mix in the files of the class"
            return sample_class(), f"{missing}, so the sample class is shown. {SAMPLE_SAID}", message
        said = f"Your own records: {len(records)} mixes." if whose == OWN else f"The class: {len(records)} mixes of {len({*records['made_by']} - {''})} makers."
        return records, said, message

    def scene(self):
        """Return the scene of the present settings."""
        records, whose, _ = self.data()
        key = self.whose.value, self.quantity.value
        if key not in self._compared:
            self._compared[key] = compare(records if len(records) else Records(), self.quantity.value)
        return own_data_scene(self._compared[key], self.of_powder.value, whose, self.without.value)
