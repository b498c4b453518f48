"""The explorer of the scale: which part of a class's scatter is weighing, and how a bigger batch helps."""

from gypsumkit.bench.own_data import compare, row_name
from gypsumkit.bench.sample import sample_class
from gypsumkit.bench.weighing import LEAST_SEEN, Tools
from gypsumkit.figures.scale_scene import LEAST_BATCH_G, LIMITS, MOST_BATCH_G, scale_scene
from gypsumkit.live.controls import choice, powder_choice
from gypsumkit.live.explorer import Explorer, button
from gypsumkit.live.explorers.own_data_explorer import QUANTITIES, SAMPLE_SAID, own_records
from gypsumkit.live.number_control import NumberControl
from gypsumkit.powders import find_powder
from gypsumkit.problems import Problem


class ScaleExplorer(Explorer):
    """Powder, size of the batch, steps of scale and cylinder, and which quantity scatters.

    The scatter that is seen is that of the reader's own records where there are enough of them, else of the invented sample class.

    Parameters
    ----------
    powder : str
        The powder at first.
    powder_g : float
        Powder in the batch at first, g.
    quantity : str
        A key of `gypsumkit.bench.own_data.MEASURED`.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`.
    """

    can_pin = False

    def __init__(self, powder="dental stone", powder_g=50.0, quantity="strength_mpa", **rest):
        self._seen = {}
        super().__init__({
            "powder": powder_choice(find_powder(powder).name),
            "powder_g": NumberControl("Powder in the batch (g)", powder_g, LEAST_BATCH_G, MOST_BATCH_G, 5.0, "g", "the powder in the batch", "100 g"),
            "scale_step_g": NumberControl("Scale reads to (g)", 1.0, 0.01, 5.0, 0.01, "g", "the step of the scale", "0.1 g", decimals=2),
            "cylinder_step_ml": NumberControl("Cylinder read to (mL)", 1.0, 0.1, 5.0, 0.1, "mL", "the step of the cylinder", "1 mL", decimals=1),
            "quantity": choice("Scatter of", QUANTITIES, quantity),
        }, LIMITS, **rest)
        again = button("Read again", "Read the own records again, after something was added")
        again.on_click(self.guard(self.read_again))
        self.add_buttons([again])

    def read_again(self):
        """Read the own records again, and show their scatter."""
        self._seen.clear()
        self.update()
        self.show_message(self.seen()[1])

    def seen(self):
        """Return the data whose scatter is shown, whose they are in a sentence, which rows are left out, and that in a sentence."""
        key = self.powder.value, self.quantity.value
        if key not in self._seen:
            self._seen[key] = self._seen_now(*key)
        return self._seen[key]

    def _seen_now(self, powder, quantity):
        try:
            own, trouble = compare(own_records(), quantity), ""
        except Problem as problem:
            own, trouble = None, f" ({problem})"
        enough = own is not None and int((own.counted & (own.powder == powder)).sum()) >= LEAST_SEEN
        compared = own if enough else compare(sample_class(), quantity)
        whose = "Scatter of your own records." if enough else f"Fewer than {LEAST_SEEN} own results, so the sample class is shown{trouble}. {SAMPLE_SAID}"
        rows = compared.where(compared.powder == powder)
        suspect = rows.suspect()
        if not suspect.outlier:
            return compared, whose, (), ""
        place = int((compared.powder == powder).nonzero()[0][suspect.place])
        return compared, whose, (place,), f"The scatter leaves out one outlier, {row_name(compared, place)}, which the picture of own data shows."

    def scene(self):
        """Return the scene of the present settings."""
        compared, whose, left_out, left_out_words = self.seen()
        tools = Tools(self.scale_step_g.value, self.cylinder_step_ml.value)
        return scale_scene(compared, self.powder.value, self.powder_g.value, tools, whose, left_out, left_out_words)
