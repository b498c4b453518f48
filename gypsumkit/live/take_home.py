"""The explorers of a lesson as pages to take home: which controls stay, and what is computed for them beforehand.

`LIVE` says for each explorer what stays live on the page. A grid of all controls would be far too large; so lists and boxes stay where
they fit, one slider stays fine, other sliders go in stops, and what does not stay is said on the page. An explorer that `LIVE` does not
know keeps its powder and its first slider, in stops.
"""

from dataclasses import dataclass, field, replace
from itertools import product

import ipywidgets as widgets

from gypsumkit.figures.ring_motion_scene import ring_film, ring_motion_scene
from gypsumkit.live.explorers import explorer_class
from gypsumkit.live.live_picture import pages_left_blank
from gypsumkit.live.number_control import RatioControl
from gypsumkit.mix import Mix
from gypsumkit.powders import POWDERS
from gypsumkit.problems import Problem
from gypsumkit.recipe import Recipe
from gypsumkit.stage.page import Choice, Combo, Computed, Number, PageExplorer, State, film_text, problem_text, scene_text
from gypsumkit.stage.strips import make_strip
from gypsumkit.studies.moving_ring import MovingRing

RATIO_STEP = 0.01            # of the page; 1 mL per 100 g
STOPS_OF_RATIO = {3: (0.9, 1.0, 1.1), 5: (0.8, 0.9, 1.0, 1.1, 1.2), 7: (0.7, 0.8, 0.9, 1.0, 1.1, 1.2, 1.35)}     # times the recommended one
STOPS_OTHERWISE = 9


@dataclass(frozen=True)
class Live:
    """What of an explorer stays live on a page.

    Parameters
    ----------
    choices : tuple of str
        Lists and boxes.
    fine : str or None
        The slider that goes through all of its steps.
    step : float or None
        Its step on the page, where it is not its own.
    stops : dict of str to (tuple of float or int)
        Other sliders: where they stop; for a ratio, how many stops.
    """

    choices: tuple = ("powder",)
    fine: str = None
    step: float = None
    stops: dict = field(default_factory=dict)


# For each use of an explorer in a lesson, in order; later uses take the last.
LIVE = {
    "batch": (Live(fine="water_ml", step=2, stops={"powder_g": (50, 100, 150, 200, 300)}),),
    "bubbles": (Live(("powder", "vibrated"), "diameter_mm", 0.1, {"ratio": 3, "depth_mm": (5, 7.5, 15, 30)}),),
    "packing": (Live(("powder", "handful"), stops={"ratio": 7}),),
    "powders": (Live((), "spread_mm", stops={"cast_ml": (15, 60, 80, 100, 200)}),),
    "voids": (Live(("habit",), stops={"depth_mm": (3, 5, 10, 20, 30), "vibrated_s": (0, 10, 20, 30, 45, 60, 90, 120)}),),
    "solubility": (Live(("counted_as",), "temperature_c"),),
    "volume": (Live(("powder",), "set_percent", 5, {"ratio": 3, "dried_percent": (0, 25, 50, 60, 80, 93, 100)}),),
    "water": (Live(("powder", "mixing", "vibrated"), "ratio"),),
    "ring": (Live(("powder", "ring", "vibrated"), "ratio"), Live(("powder", "vibrated"), "ratio", stops={"time_min": (1, 2, 4, 6, 8)})),
    "strength": (Live(("powder", "dried", "industrial"), "wanted_mpa", 2, {"ratio": 3}), Live(("powder",), "ratio", stops={"wanted_mpa": (20, 30, 40)})),
    "slip": (Live(("powder",), "water_slip_ml", stops={"batch_g": (25, 50, 75, 100, 150, 200, 300, 400, 500), "powder_slip_g": (-1, 0, 1)}),),
    "clock": (Live(("powder", "change"), "time_min", 4, {"ratio": 3}),),
    "heat": (Live(("powder",), "edge_mm", 10, {"ratio": 3}),),
    "week": (Live(("powder",), stops={"ratio": 3, "half_dry_h": (6, 12, 24, 40, 100),
                                      "day_h": (0.5, 1, 2, 3, 6, 12, 24, 36, 48, 72, 96, 120, 144, 168)}),),
    "expansion": (Live(("powder", "made", "view"), stops={"ratio": 3, "length_mm": (10, 30, 40, 50)}),),
    "faults": (Live(("first", "second")), Live(("first", "checked"))),
    "cases": (Live(("case", "powder", "schedule"), stops={"ratio": 3}),),
    "schedule": (Live(("powder", "mixing", "impression"), stops={"ratio": 3, "temperature_c": (18, 23, 30)}),),
    "pour": (Live(("powder", "impression"), stops={"waits_min": (5, 15, 45, 90), "drops": (0, 2), "poured_min": (2.5, 3, 5, 14)}),),
    "separate": (Live(("powder", "impression"), stops={"base_min": (6, 15, 90), "separate_min": (20, 45, 600), "trim_min": (30, 60, 120)}),),
    "etching": (Live(("wetting",), stops={"minutes": (1, 2, 5, 10, 30, 60, 720), "water_l": (0.5, 2, 5), "temperature_c": (10, 20, 40, 80)}),),
    "drying": (Live(("powder",), "weight_percent", 0.5, {"air_c": (25, 40, 50, 60, 100)}),),
    "accuracy": (Live(("powder", "work"), stops={"length_mm": (8, 15, 30, 50)}),),
}
NOT_ON_THE_PAGE = {"own data": "it compares your own measurements, which lie in your work folder"}
RING = "ring in motion"
HANDS = ("stands, filled", "is lifted", "is lifted on the vibrator")


def page_explorers(uses):
    """Return the explorers of a lesson as they stand on its page, and sentences about those that do not.

    Parameters
    ----------
    uses : sequence of dict
        One for each explorer: ``kind``, ``heading``, ``settings`` as in the lesson, ``prediction`` (a question or None), ``moves`` (HTML).

    Returns
    -------
    explorers : list of PageExplorer
    left_out : list of str
    """
    explorers, left_out, used, computed = [], [], {}, {}
    for use in uses:
        kind = use["kind"]
        if kind in NOT_ON_THE_PAGE:
            left_out.append(f"“{use['heading']}” is not on this page: {NOT_ON_THE_PAGE[kind]}. Open the lesson in the course for it.")
            continue
        turn = used[kind] = used.get(kind, -1) + 1
        explorers.append(_moving_ring(use) if kind == RING else _page_explorer(use, turn, uses, computed))
    return explorers, left_out


def _page_explorer(use, turn, uses, computed):
    explorer = _made(use)
    live = _live(use["kind"], turn, explorer)
    controls = tuple(_control(name, control, live) for name, control in explorer.controls.items()
                     if name in live.choices or name == live.fine or name in live.stops)
    fixed = {name: value for name, value in explorer.settings().items() if name not in {control.name for control in controls}}
    known = (use["kind"], repr(live), repr(fixed))
    if known not in computed:
        wanted = [(_made(one).settings(), one["settings"].get("asked") or {}) for one in uses if one["kind"] == use["kind"]]
        computed[known] = _compute(explorer, live, controls, [setting for pair in wanted for setting in pair])
    told = computed[known]
    return PageExplorer(
        use["heading"], told, _state(told, explorer, {}), explorer.question, explorer.limits, tuple(_stays(explorer, fixed, told)),
        _state(told, explorer, use["settings"].get("asked")) if use["settings"].get("asked") else None, use["prediction"], use["moves"])


def _made(use):
    settings = {name: value for name, value in use["settings"].items() if name != "prediction"}
    with pages_left_blank():
        return explorer_class(use["kind"])(**settings)


def _live(kind, turn, explorer):
    if kind in LIVE:
        return LIVE[kind][min(turn, len(LIVE[kind]) - 1)]
    choices = tuple(name for name in explorer.controls if name == "powder")
    slider = next((name for name, control in explorer.controls.items() if hasattr(control, "typed")), None)
    return Live(choices, stops={slider: STOPS_OTHERWISE} if slider else {})


def _control(name, control, live):
    if isinstance(control, widgets.Checkbox):
        return Choice(name, control.description)
    if isinstance(control, widgets.Dropdown):
        return Choice(name, control.description, tuple(words for words, _ in _options(control)))
    decimals = int(control.slider.readout_format[1:-1])
    values = live.stops.get(name, ())
    if isinstance(values, tuple) and any(value != int(value) for value in values):
        decimals = max(decimals, 1)
    if isinstance(control, RatioControl):
        decimals = 2
    return Number(name, control.slider.description, control.unit, control.what, control.example, decimals)


def _options(control):
    if isinstance(control, widgets.Checkbox):
        return [("no", False), ("yes", True)]
    return [option if isinstance(option, tuple) else (str(option), option) for option in control.options]


# ---------------------------------------------------------------- what is computed


def _compute(explorer, live, controls, wanted):
    """Everything that the explorer shows at the settings that the page holds; `wanted` are settings that must be among them."""
    explorer.stop_drawing()
    start = explorer.settings()
    choices = [control for control in controls if isinstance(control, Choice)]
    numbers = [control for control in controls if isinstance(control, Number)]
    combos, strips = [], []
    for values in product(*(_options(explorer.controls[choice.name]) for choice in choices)):
        explorer.go_to(**start)
        for choice, (_, value) in zip(choices, values):
            explorer.go_to(**{choice.name: value})
        if "change" in explorer.controls:
            explorer.fit("change")
        axes = [_axis(explorer, number, live, wanted) for number in numbers]
        rest = [_nearest(axis, _usual(explorer.controls[number.name])) for axis, number in zip(axes, numbers)]
        combos.append(Combo(tuple(axes), tuple(rest)))
        stops = [[(number.name, value) for value in axis] for axis, number in zip(axes, numbers) if number.name != live.fine]
        fine = next((axis for axis, number in zip(axes, numbers) if number.name == live.fine), (None,))
        also = [fine.index(value) for value in _wanted_of(live.fine, wanted) if value in fine] + ([fine.index(rest[_place(numbers, live.fine)])] if live.fine else [])
        for stop in product(*stops):
            for name, value in stop:
                explorer.controls[name].set(value)
            strips.append(make_strip(lambda step, fine=fine: _text_at(explorer, live.fine, fine[step]), len(fine), also))
    explorer.go_to(**start)
    return Computed(controls, live.fine, tuple(combos), tuple(strips))


def _place(numbers, name):
    return next(place for place, number in enumerate(numbers) if number.name == name)


def _text_at(explorer, fine, value):
    try:
        if fine is not None:
            explorer.controls[fine].set(value)
        return scene_text(explorer.scene())
    except Problem as problem:
        return problem_text(problem)


def _axis(explorer, number, live, wanted):
    """The values of a slider on the page, rising."""
    control = explorer.controls[number.name]
    low, high, digits = control.low, control.high, number.decimals
    stops = live.stops.get(number.name)
    if number.name == live.fine:
        step = live.step or (RATIO_STEP if isinstance(control, RatioControl) else control.slider.step)
        first = -int(-(low / step - 1e-9) // 1)
        values = [step * at for at in range(first, int(high / step + 1e-9) + 1)]
    elif isinstance(stops, int) and isinstance(control, RatioControl):
        values = [control.powder.recommended_ratio.value * part for part in STOPS_OF_RATIO.get(stops, STOPS_OF_RATIO[5])]
    elif isinstance(stops, int):
        values = [low + (high - low) * at / (stops - 1) for at in range(stops)]
    else:
        values = list(stops)
    values += [control.value, _usual(control), *_wanted_of(number.name, wanted, explorer)]
    return tuple(sorted({round(value, digits) for value in values if low - 1e-9 <= round(value, digits) <= high + 1e-9}))


def _wanted_of(name, wanted, explorer=None):
    """The values of a slider among the wanted settings, of those with the explorer's powder where they name one."""
    found = []
    for settings in wanted:
        if name in settings and (explorer is None or "powder" not in settings or settings["powder"] == explorer.settings().get("powder")):
            found.append(settings[name])
    return found


def _usual(control):
    """Where a slider goes when it cannot stay: the recommended ratio of the powder, else where the explorer itself puts it."""
    return control.powder.recommended_ratio.value if isinstance(control, RatioControl) else control.value


def _nearest(axis, value):
    return min(axis, key=lambda one: abs(one - value))


def _state(told, explorer, asked):
    """The settings of an explorer as the page holds them, moved to `asked`; None where the page does not hold them."""
    settings = {**explorer.settings(), **{name: value for name, value in (asked or {}).items() if value is not None}}
    chosen = []
    for choice in told.choices:
        values = [value for _, value in _options(explorer.controls[choice.name])]
        if settings[choice.name] not in values:
            return None
        chosen.append(values.index(settings[choice.name]))
    fixed = set(settings) - {control.name for control in told.controls}
    if any(settings[name] != explorer.settings()[name] for name in fixed if name in explorer.controls) or not set(settings) <= set(explorer.controls):
        return None
    combo = told.combos[list(product(*(range(choice.count) for choice in told.choices))).index(tuple(chosen))]
    numbers = []
    for axis, number in zip(combo.axes, told.numbers):
        near = _nearest(axis, settings[number.name] if asked is None or number.name in asked or number.name in explorer.controls else axis[0])
        if asked and number.name in asked and abs(near - settings[number.name]) > 0.5 * 10 ** -number.decimals:
            return None
        numbers.append(near)
    return State(tuple(chosen), tuple(numbers))


def _stays(explorer, fixed, told):
    """Sentences about what does not move on the page, or in larger steps."""
    for name, value in fixed.items():
        control = explorer.controls[name]
        if hasattr(control, "typed"):
            if control.layout.display == "none" or name == "amount":
                yield "On this page the amount of a change is its usual one."
            else:
                yield f"On this page {control.what} stays at {value:g} {control.unit}".rstrip() + "."
        elif isinstance(control, widgets.Checkbox):
            yield f"On this page the box “{control.description}” stays {'ticked' if value else 'empty'}."
        elif isinstance(control, widgets.Text):
            yield f"On this page the field “{control.description}” stays {f'as it is, {value}' if value else 'empty'}."
        else:
            yield f"On this page “{control.description}” stays at {next(words for words, one in _options(control) if one == value)}."
    for number in told.numbers:
        if number.name != told.fine:
            yield f"The slider “{number.label}” has only a few stops on this page."


# ---------------------------------------------------------------- the ring in motion


def _moving_ring(use):
    """The ring test as films: each powder at its recommended water, still and on the vibrator."""
    explorer = _made(use)
    strips = []
    for kind in POWDERS.values():
        mix = Mix(Recipe(kind.name, kind.recommended_ratio.value), kind.standard_time_min)
        strips += [make_strip(lambda _, text=text: text, 1) for text in _films(mix)]
    choices = (Choice("powder", "Powder", tuple(POWDERS)), Choice("hand", "The ring", HANDS))
    told = Computed(choices, None, tuple(Combo((), ()) for _ in strips), tuple(strips), film=True)
    stays = ("On this page each powder is mixed with its recommended water and tested at its standard minute; the vibrator runs from the start or not at all.",)
    return PageExplorer(use["heading"], told, State((list(POWDERS).index(explorer.powder.value), 0), ()), explorer.question, explorer.limits, stays,
                        None, use["prediction"], use["moves"])


def _films(mix):
    still, texts = ring_motion_scene(MovingRing(mix)), []
    texts.append(scene_text(still))
    for shaken in (False, True):
        test = MovingRing(mix)
        if shaken:
            test.switch(True, 0.0)
        test.lift()
        film = ring_film(test)
        texts.append(film_text(film, [_without_moving(picture) for picture in still.pictures]) if film.length_s else scene_text(film.last))
    return texts


def _without_moving(picture):
    return replace(picture, panels=tuple(replace(panel, moving=()) for panel in picture.panels))
