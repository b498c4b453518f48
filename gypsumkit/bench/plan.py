"""A session at the bench, planned: what to order, what each mix weighs, what it costs, and who does what in which minute.

A mix cannot wait: once powder meets water every step has its minute. So only the moment at which each mix is begun is free, and
all mixes of a session run alike. Each is begun as early as vibrators, mixers, scales and the hands of its group allow.
"""

import heapq
import math
from collections import defaultdict
from contextlib import suppress
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import combinations, product
from typing import NamedTuple

from gypsumkit.bench.prices import price_list
from gypsumkit.checks import checked_number
from gypsumkit.conditions import HAND_TURNS, Conditions
from gypsumkit.mix import predict, predict_setting
from gypsumkit.powders import POWDERS, ROOM_C, find_powder
from gypsumkit.problems import Problem
from gypsumkit.recipe import Recipe, checked_ratio, read_ratio
from gypsumkit.science.pores import paste_volume_cm3_per_g
from gypsumkit.units import find_unit, read_number

# How long the work of the hands takes, min.                                   [trade], where no source is named [gypsumkit]
OPENING_MIN = 5                      # goggles on, the card read, nothing mixed yet
WEIGH_MIN = 2                        # at the scale and the cylinder
WET_MIN = 0.5                        # powder into the water, and left to soak: about half a minute
TURNS_PER_MIN = 180.0                # three turns a second
MACHINE_MIN = 0.5                    # 20 to 30 s under vacuum
RING_MIN = 0.5                       # the ring is filled, then lifted
RINSE_MIN = 1                        # bowl and spatula, before the rest sets
SEPARATE_MIN = 2                     # for each mix
TIDY_MIN = 5
MARGIN_MIN = 15                      # after the predicted final set, before a cast is separated

MOST_STUDENTS, MOST_CASTS, MOST_MIXES = 300, 20, 2000
LEAST_G, MOST_G, MOST_CM3 = 1.0, 5000.0, 5000.0
MOST_PAIRS = 4                       # of changes that are proposed together
RATIO_OFF_TOLD, RATIO_OFF_REFUSED = 0.02, 0.10

CAUTIONS = (
    "Do not raise dust: pour powder low, wipe wet. Mask and goggles.",
    "A setting mass grows hot. No finger, hand or body part in it.",
    "Vibrator and mixer: dry hands, hair and sleeves tied back; no hand in a running mixer.",
    "Impressions only after disinfection, as their maker says.",
    "No gypsum into the sink: let it set, then into the waste as your rules say.",
)
FIRST = "For teaching; the maker's instructions come first"
LIMITS = ("Limits: times of setting are predicted, with constants of our own, for the mix that is weighed, at the temperatures given. Times of the "
          "hands (weighing 2 min, soaking half a minute, three turns a second, cleaning) are common practice or ours; students are slower at first. "
          f"Separate not before: predicted final set and {MARGIN_MIN} min of our own, or what the product says, whichever is later. Prices marked "
          "“invented” are invented.")


class Batch(NamedTuple):
    """What is weighed and measured for so many casts, as scale and cylinder read it, and the ratio that gives."""

    casts: int
    powder_g: float
    water_ml: float
    water_powder_ratio: float


class Cost(NamedTuple):
    """The same casts of one powder: what is needed and what it costs; None where no price is known."""

    powder: str
    water_powder_ratio: float
    powder_kg: float
    bags: int
    price_per_kg: float
    invented: bool
    money: float                     # for the powder needed
    money_for_bags: float            # for whole bags
    planned: bool                    # the powder and ratio of this plan


class Moments(NamedTuple):
    """When what happens to each mix, min from the start of mixing."""

    mixed_min: float
    ring_min: float                  # the ring is lifted; where there is none, the end of mixing
    poured_min: float
    pours_until_min: float           # predicted
    gloss_loss_min: float            # predicted
    final_set_min: float             # predicted
    separate_min: int
    separate_why: str


class Turn(NamedTuple):
    """One mix of one group: when it begins, min from the opening, and at which of the shared machines."""

    group: int
    mix: int
    casts: int
    weigh_min: int
    start_min: int                   # powder meets water
    scale: int
    mixer: int                       # 0 without a machine
    vibrator: int


class Remedy(NamedTuple):
    """What would make the session fit, and how long it would then be."""

    words: str
    end_min: int


class Entry(NamedTuple):
    """One line of the timetable, min from the opening."""

    begin_min: float
    end_min: float
    group: int
    mix: int                         # 0 for the whole group
    does: str
    with_machine: str


def _read(value, what, unit, least, most):
    """A number with or without its unit; another kind of quantity is refused."""
    if isinstance(value, str):
        try:
            read = read_number(value, f"12 {unit}")
        except Problem as problem:
            raise Problem(f"{what} cannot be read: {problem}") from None
        wanted = find_unit(unit)
        if read.unit is not None and read.unit.kind != wanted.kind:
            raise Problem(f"{what} is given as {read.number:g} {read.unit_typed}, which is {read.unit.kind}; it is {wanted.kind}, in {unit}.")
        value = read.in_unit(wanted)
    return checked_number(value, what, unit, least, most)


def _counted(value, what, least, most):
    """A whole number; a half one is refused, not rounded."""
    number = checked_number(value, what, "")
    if number != math.floor(number) or not least <= number <= most:
        raise Problem(f"{what} is given as {number:g}; it must be a whole number from {least} to {most}.")
    return int(number)


def _size(value, what, unit, smaller_unit, most):
    """Size of a cast, where a unit thousand times smaller or larger is guessed from the number."""
    number = _read(value, what, unit, None, None)
    if not 1.0 <= number <= most:
        guess = ""
        if number > most and 1.0 <= number / 1000 <= most:
            guess = f" If it is {number:g} {smaller_unit}, write {number / 1000:g}."
        elif 0 < number < 1 and 1.0 <= number * 1000 <= most:
            guess = f" If it is {number:g} {'kg' if unit == 'g' else 'L'}, write {number * 1000:g}."
        raise Problem(f"{what} is given as {number:g} {unit}; it must lie between 1 and {most:,.0f} {unit}.{guess}")
    return number


@dataclass(frozen=True, kw_only=True)
class Session:
    """What is asked of a session, checked; every number may be typed with its unit and with a decimal comma.

    Parameters
    ----------
    students : int
        In the class, 1 to 300.
    casts : int
        Of each student, 1 to 20.
    powder : str
        Name of a powder, the reader's own ones included.
    water_powder_ratio : float or str, optional
        mL per g; the recommended one when not given.
    powder_g : float, optional
        Powder weighed for one cast, g, 1 to 5000. Either this or `cast_volume_cm3`.
    cast_volume_cm3 : float, optional
        Volume of the impression or of the cast, cm³, 1 to 5000.
    waste_percent : float
        % of the powder of the casts, 0 to 100: of a volume, the mix that stays in the bowl and is weighed along; of a weight, the powder
        spilt or mixed again, which is only ordered.
    bag_kg : float
        Powder in a bag, kg.
    group_size : int
        Students who share a bowl.
    casts_per_mix : int
        Casts that are poured from one bowl.
    vibrators, mixers, scales : int
        How many there are.
    session_min : float
        Length of the session, min.
    product_says_min : float, optional
        When the product's instructions allow a cast to be separated, min from the start of mixing.
    separate_later : bool
        Casts are separated another day.
    ring_test : bool
        From each mix a ring is filled and lifted at its moment.
    pour_min : float
        To vibrate and pour one cast, min.
    scale_step_g, cylinder_step_ml : float
        What scale and cylinder read, g and mL.
    prices : dict of str to float or str, optional
        The reader's own prices of powders, for one kg.
    mixing, turns, water_temperature_c, room_temperature_c
        As in `Conditions`.

    Raises
    ------
    Problem
        When something is missing, not a number or out of range.
    """

    students: int
    casts: int = 1
    powder: str = "dental stone"
    water_powder_ratio: float = None
    powder_g: float = None
    cast_volume_cm3: float = None
    waste_percent: float = 10.0
    bag_kg: float = 5.0
    group_size: int = 2
    casts_per_mix: int = 1
    vibrators: int = 1
    mixers: int = 1
    scales: int = 1
    session_min: float = 90.0
    product_says_min: float = None
    separate_later: bool = False
    ring_test: bool = True
    pour_min: float = 1.0
    scale_step_g: float = 1.0
    cylinder_step_ml: float = 1.0
    prices: dict = field(default=None, hash=False)
    mixing: str = "spatulated by hand"
    turns: float = None
    water_temperature_c: float = ROOM_C
    room_temperature_c: float = ROOM_C

    def __post_init__(self):
        def put(name, value):
            object.__setattr__(self, name, value)
        put("students", _counted(self.students, "The number of students", 1, MOST_STUDENTS))
        put("casts", _counted(self.casts, "The number of casts of each student", 1, MOST_CASTS))
        kind = find_powder(self.powder)
        put("powder", kind.name)
        put("water_powder_ratio", kind.recommended_ratio.value if self.water_powder_ratio is None
            else checked_ratio(kind, read_ratio(self.water_powder_ratio)))
        if (self.powder_g is None) == (self.cast_volume_cm3 is None):
            raise Problem("Give the size of a cast either as powder in g or as volume in cm³" + ("." if self.powder_g is None else ", not both."))
        if self.powder_g is not None:
            put("powder_g", _size(self.powder_g, "The powder of one cast", "g", "mg", MOST_G))
        else:
            put("cast_volume_cm3", _size(self.cast_volume_cm3, "The volume of one cast", "cm³", "mm³", MOST_CM3))
        put("waste_percent", _read(self.waste_percent, "The waste", "%", 0.0, 100.0))
        if 0 < self.waste_percent < 1:
            raise Problem(f"The waste is given as {self.waste_percent:g} %; for {100 * self.waste_percent:g} % write {100 * self.waste_percent:g}, for none write 0.")
        put("bag_kg", _read(self.bag_kg, "The powder in a bag", "kg", 0.1, 1000.0))
        for name, what, most in (("group_size", "The number of students at one bowl", 10), ("casts_per_mix", "The number of casts from one bowl", MOST_CASTS),
                                 ("vibrators", "The number of vibrators", 100), ("mixers", "The number of mixers", 100), ("scales", "The number of scales", 100)):
            put(name, _counted(getattr(self, name), what, 1, most))
        put("session_min", _read(self.session_min, "The length of the session", "min", 10.0, 1440.0))
        if self.product_says_min is not None:
            put("product_says_min", _read(self.product_says_min, "The time to separate that the product says", "min", 1.0, 1440.0))
        put("pour_min", _read(self.pour_min, "The time to pour one cast", "min", 0.1, 30.0))
        put("scale_step_g", _read(self.scale_step_g, "The step of the scale", "g", 0.001, 100.0))
        put("cylinder_step_ml", _read(self.cylinder_step_ml, "The step of the cylinder", "mL", 0.01, 100.0))
        price_list(self.prices)
        made = Conditions(**self.conditions)
        for name in self.conditions:
            put(name, getattr(made, name))
        if self.mixes > MOST_MIXES:
            raise Problem(f"These are {self.mixes} mixes; this course plans up to {MOST_MIXES} in one session: plan fewer students or casts.")

    @property
    def conditions(self):
        """How it is mixed, as `Conditions` takes it."""
        return {name: getattr(self, name) for name in ("mixing", "turns", "water_temperature_c", "room_temperature_c")}

    @property
    def by_machine(self):
        """Whether a mixer is needed."""
        return self.mixing not in HAND_TURNS

    @cached_property
    def groups(self):
        """Students in each group, as even as can be."""
        count = math.ceil(self.students / self.group_size)
        return tuple(self.students // count + (place < self.students % count) for place in range(count))

    @cached_property
    def mixes_of_groups(self):
        """The casts in each mix of each group."""
        def split(casts):
            return (self.casts_per_mix,) * (casts // self.casts_per_mix) + ((casts % self.casts_per_mix,) if casts % self.casts_per_mix else ())
        return tuple(split(size * self.casts) for size in self.groups)

    @cached_property
    def mixes(self):
        """How many bowls are mixed."""
        return sum(map(len, self.mixes_of_groups))


# What is weighed ----------------------------------------------------------------------------------

def paste_cm3_per_g(powder, water_powder_ratio, **conditions):
    """Return the volume of mix that 1 g of powder makes, trapped air counted.

    Parameters
    ----------
    powder : str
        Name of a powder.
    water_powder_ratio : float
        mL per g.
    **conditions
        As in `Conditions`.

    Returns
    -------
    float
        cm³ per g.
    """
    air = predict(powder, water_powder_ratio, conditions=Conditions(**conditions))["air_fraction"].value
    return float(paste_volume_cm3_per_g(water_powder_ratio, POWDERS[powder].density_g_cm3.value, air_fraction=air))


def _to_step(value, step):
    return round(math.floor(value / step + 0.5) * step, 9)


def _batch(session, powder_per_cast_g, casts):
    """So many casts on this scale and in this cylinder; the water follows the powder as weighed."""
    powder = _to_step(casts * powder_per_cast_g, session.scale_step_g)
    water = _to_step(powder * session.water_powder_ratio, session.cylinder_step_ml)
    for amount, what, step, tool in ((powder, f"{casts * powder_per_cast_g:.3g} g of powder", f"{session.scale_step_g:g} g", "scale"),
                                     (water, f"{powder * session.water_powder_ratio:.3g} mL of water", f"{session.cylinder_step_ml:g} mL", "cylinder")):
        if amount <= 0:
            raise Problem(f"{what} cannot be measured with a {tool} that reads steps of {step}; use a finer one or mix more casts at once.")
    ratio = water / powder
    if abs(ratio / session.water_powder_ratio - 1) > RATIO_OFF_REFUSED:
        raise Problem(f"With a cylinder in steps of {session.cylinder_step_ml:g} mL the ratio becomes {ratio:.3g} instead of "
                      f"{session.water_powder_ratio:.3g}; use a finer cylinder or mix more casts at once.")
    return Batch(casts, powder, water, ratio)


# Who begins when ----------------------------------------------------------------------------------

def stagger(mixes_of_groups, shared, hands_min):
    """Return the earliest beginnings of mixes that all run alike.

    Nothing waits that could begin. For groups as even as those of a session the last mix then begins as early as it can, which is tested
    against trying every order; for very uneven groups it may begin a little late.

    Parameters
    ----------
    mixes_of_groups : sequence of int
        How many mixes each group makes, one after the other.
    shared : sequence of (int, int)
        Of each kind of machine: how many there are, and for how many whole minutes one mix holds one.
    hands_min : int
        Whole minutes in which a group is busy with one mix.

    Returns
    -------
    list of (int, int)
        Minute of the beginning and group, in the order of beginning, from minute 0.
    """
    left, begun, minute = list(mixes_of_groups), [], 0
    ready = [(-mixes, group) for group, mixes in enumerate(left) if mixes]     # of the groups whose hands are free, most mixes before it first
    busy = []                                                                   # (minute at which the hands are free, group)
    heapq.heapify(ready)
    while ready or busy:
        # With c machines, a mix begins when the one c before it has given its machine back.
        minute = max([minute, *(begun[-copies][0] + held for copies, held in shared if len(begun) >= copies)])
        minute = minute if ready else max(minute, busy[0][0])
        while busy and busy[0][0] <= minute:
            group = heapq.heappop(busy)[1]
            heapq.heappush(ready, (-left[group], group))
        group = heapq.heappop(ready)[1]
        begun.append((minute, group))
        left[group] -= 1
        if left[group]:
            heapq.heappush(busy, (minute + hands_min, group))
    return begun


def _whole_minutes(begin, end):
    """How many minutes later the next mix may come, all mixes being alike and begun at whole minutes."""
    return math.ceil(round(end - begin, 6))


@dataclass(frozen=True)
class _Steps:
    """The steps of one mix, min from its weighing."""

    mixed: float
    ring: float
    poured: float

    @classmethod
    def of(cls, session):
        kind = POWDERS[session.powder]
        turns = session.turns or HAND_TURNS.get(session.mixing)
        mixed = WET_MIN + (MACHINE_MIN if session.by_machine else turns / TURNS_PER_MIN)
        ring = max(kind.standard_time_min, math.ceil(round(2 * (mixed + RING_MIN), 6)) / 2) if session.ring_test else mixed
        return cls(mixed, ring, ring + session.pour_min * min(session.casts_per_mix, max(session.groups) * session.casts))

    @property
    def hands_min(self):
        return WEIGH_MIN + math.ceil(round(self.poured, 6)) + RINSE_MIN

    def shared(self, session):
        """Machines and the minutes they are held, in the order scale, vibrator, mixer."""
        held = [(session.scales, WEIGH_MIN), (session.vibrators, _whole_minutes(self.ring, self.poured))]
        return held + [(session.mixers, _whole_minutes(WET_MIN, self.mixed))] * session.by_machine


def _turns(session):
    steps = _Steps.of(session)
    done, turns = defaultdict(int), []
    for place, (minute, group) in enumerate(stagger([len(mixes) for mixes in session.mixes_of_groups], steps.shared(session), steps.hands_min)):
        mix, done[group] = done[group], done[group] + 1
        turns.append(Turn(group + 1, mix + 1, session.mixes_of_groups[group][mix], OPENING_MIN + minute, OPENING_MIN + minute + WEIGH_MIN,
                          place % session.scales + 1, place % session.mixers + 1 if session.by_machine else 0, place % session.vibrators + 1))
    return tuple(turns)


def _closing(session, turns, separate_min):
    """When each group begins to separate its casts and when it has tidied up, by group; without separating where that is later."""
    hands, found = _Steps.of(session).hands_min, {}
    for turn in turns:                                     # the last turn of a group overwrites the ones before
        busy, mixes = turn.weigh_min + hands, len(session.mixes_of_groups[turn.group - 1])
        begin = busy if session.separate_later else max(busy, turn.start_min + separate_min)
        found[turn.group] = begin, begin + (0 if session.separate_later else SEPARATE_MIN * mixes) + TIDY_MIN
    return found


def _end_min(session, separate_min):
    return max(end for _, end in _closing(session, _turns(session), separate_min).values())


# The whole plan -----------------------------------------------------------------------------------

@dataclass(frozen=True)
class SessionPlan:
    """A session, planned; see the fields of its parts."""

    session: Session
    cast_volume_cm3: float           # of one cast, fresh mix with its air, waste left out
    batches: tuple                   # of Batch: what the bowls hold, and one to three casts where they can be measured
    powder_kg: float
    bags: int
    water_l: float
    costs: tuple                     # of Cost, one a powder
    moments: Moments
    turns: tuple                     # of Turn, in the order of beginning
    end_min: int
    fits: bool
    remedies: tuple                  # of Remedy, when it does not fit
    notes: tuple                     # sentences

    @property
    def batch(self):
        """What the fullest bowl holds."""
        most = max(turn.casts for turn in self.turns)
        return next(one for one in self.batches if one.casts == most)

    @cached_property
    def closing(self):
        """For each group: when it begins to separate, and when it has tidied up, min from the opening."""
        return _closing(self.session, self.turns, self.moments.separate_min)

    @cached_property
    def timetable(self):
        """Every step of every mix as entries, in the order of time."""
        steps, entries = _Steps.of(self.session), []
        for turn in self.turns:
            def add(begin, end, does, machine=""):
                entries.append(Entry(begin, end, turn.group, turn.mix, does, machine))
            zero = turn.start_min
            add(turn.weigh_min, zero, "weigh and measure", f"scale {turn.scale}")
            add(zero, zero + WET_MIN, "soak the powder")
            add(zero + WET_MIN, zero + steps.mixed, "mix", f"mixer {turn.mixer}" if turn.mixer else "")
            if self.session.ring_test:
                add(zero + steps.mixed, zero + steps.ring, "fill the ring and lift it")
            add(zero + steps.ring, zero + steps.poured, "vibrate and pour", f"vibrator {turn.vibrator}")
            poured = math.ceil(round(zero + steps.poured, 6))
            add(poured, poured + RINSE_MIN, "clean bowl and spatula")
            for name, moment in (("look for the loss of gloss", self.moments.gloss_loss_min), ("try for the final set", self.moments.final_set_min)):
                add(round(zero + moment), round(zero + moment), name)
        for group, (begin, end) in self.closing.items():
            if not self.session.separate_later:
                entries.append(Entry(begin, end - TIDY_MIN, group, 0, "separate the casts", ""))
            entries.append(Entry(end - TIDY_MIN, end, group, 0, "tidy up, wipe wet", ""))
        return tuple(sorted(entries, key=lambda one: (one.begin_min, one.group, one.mix, one.end_min)))

    def beginnings(self):
        """Return for each group the minutes in which powder meets water, one for each of its mixes.

        Returns
        -------
        list of (int, list of int)
        """
        found = defaultdict(list)
        for turn in self.turns:
            found[turn.group].append(turn.start_min)
        return sorted((group, sorted(minutes)) for group, minutes in found.items())

    def minutes(self):
        """Return who does what in each minute in which something begins.

        Returns
        -------
        list of (int, list of str)
        """
        found = defaultdict(lambda: defaultdict(list))
        for entry in self.timetable:
            many = len(self.session.mixes_of_groups[entry.group - 1]) > 1 and entry.mix
            who = f"group {entry.group}" + (f", mix {entry.mix}" if many else "")
            found[math.floor(entry.begin_min)][entry.group, entry.mix, who].append(entry.does + (f" ({entry.with_machine})" if entry.with_machine else ""))
        return [(minute, [f"{who}: {', '.join(does)}" for (_, _, who), does in sorted(found[minute].items())]) for minute in sorted(found)]


def plan_session(students, casts=1, powder="dental stone", water_powder_ratio=None, **asked):
    """Plan a session at the bench.

    Parameters
    ----------
    students, casts : int
        In the class; of each student.
    powder : str
        Name of a powder.
    water_powder_ratio : float or str, optional
        mL per g; the recommended one when not given.
    **asked
        The other fields of `Session`, by name.

    Returns
    -------
    SessionPlan

    Raises
    ------
    Problem
        When something is missing, not a number or out of range, or this mix never sets.
    """
    session = Session(students=students, casts=casts, powder=powder, water_powder_ratio=water_powder_ratio, **asked)
    conditions, ratio = session.conditions, session.water_powder_ratio
    per_g = paste_cm3_per_g(session.powder, ratio, **conditions)
    more = 1 + session.waste_percent / 100
    by_volume = session.cast_volume_cm3 is not None
    volume = session.cast_volume_cm3 if by_volume else session.powder_g * per_g
    per_cast = volume * more / per_g if by_volume else session.powder_g
    bowls = [casts for mixes in session.mixes_of_groups for casts in mixes]
    batches = {casts: _batch(session, per_cast, casts) for casts in sorted(set(bowls))}
    weighed = [batches[casts] for casts in bowls]
    ordered = 1.0 if by_volume else more
    powder_kg, water_l = (ordered * sum(getattr(one, name) for one in weighed) / 1000 for name in ("powder_g", "water_ml"))
    largest = batches[max(bowls)]
    moments = _moments(session, largest)
    turns = _turns(session)
    end_min = _end_min(session, moments.separate_min)
    fits = end_min <= session.session_min
    return SessionPlan(session, volume, _with_common(session, per_cast, batches), powder_kg, _bags(powder_kg, session.bag_kg), water_l,
                       _costs(session, volume * more * session.students * session.casts, powder_kg), moments, turns, end_min, fits,
                       () if fits else _remedies(session, moments, largest), _notes(session, moments, largest, turns))


def _with_common(session, per_cast_g, batches):
    """The bowls of the session, and bowls of one to three casts where scale and cylinder can measure them, by size."""
    found = dict(batches)
    for casts in {1, 2, 3} - set(batches):
        with suppress(Problem):
            found[casts] = _batch(session, per_cast_g, casts)
    return tuple(found[casts] for casts in sorted(found))


def _bags(powder_kg, bag_kg):
    return math.ceil(round(powder_kg / bag_kg, 9))


def _moments(session, batch):
    """The clock of what is weighed for one bowl."""
    recipe = Recipe.weighed(session.powder, batch.powder_g, batch.water_ml, **session.conditions)
    events = {name: one.value for name, one in predict_setting(recipe.powder, recipe.water_powder_ratio, recipe, ranges=False).items()}
    if any(events[name] is None for name in ("gloss_loss_min", "final_set_min")):
        raise Problem("This mix does not set within a day, so no session can be planned with it; change the temperatures or the recipe.")
    steps = _Steps.of(session)
    set_and_margin, says = math.ceil(round(events["final_set_min"] + MARGIN_MIN, 1)), session.product_says_min
    why = f"predicted final set and {MARGIN_MIN} min of our own; the product's instructions, when later, come first"
    if says is not None:
        why = (f"as the product says, later than the predicted final set and {MARGIN_MIN} min" if says > set_and_margin
               else f"predicted final set and {MARGIN_MIN} min of our own, later than the {says:g} min that the product says")
    return Moments(steps.mixed, steps.ring, steps.poured, float(events["working_time_min"]), float(events["gloss_loss_min"]),
                   float(events["final_set_min"]), max(set_and_margin, math.ceil(says or 0)), why)


def _costs(session, paste_cm3, planned_kg):
    """The same casts of every powder at its recommended ratio, the planned powder at its own."""
    prices, rows = price_list(session.prices), []
    for name, kind in POWDERS.items():
        planned = name == session.powder
        ratio = session.water_powder_ratio if planned else kind.recommended_ratio.value
        kg = planned_kg if planned else paste_cm3 / paste_cm3_per_g(name, ratio, **session.conditions) / 1000
        bags, price = _bags(kg, session.bag_kg), prices.get(name)
        rows.append(Cost(name, ratio, kg, bags, *((price.per_kg, price.invented, kg * price.per_kg, bags * session.bag_kg * price.per_kg) if price
                                                  else (None, False, None, None)), planned))
    return tuple(rows)


def _changes(session):
    """What may be changed: words, and each change from the smallest to the largest."""
    def more(name):
        count = getattr(session, name + "s")
        return (f"use {{}} {name}s instead of {count}", [{name + "s": count + extra} for extra in range(1, 6)])
    return [
        ("separate the casts another day", [{"separate_later": True}] * (not session.separate_later)),
        (f"make {{}} instead of {session.casts} casts each", [{"casts": casts} for casts in range(session.casts - 1, 0, -1)]),
        more("vibrator"), more("scale"), *([more("mixer")] if session.by_machine else []),
        (f"pour {{}} instead of {session.casts_per_mix} from each bowl", [{"casts_per_mix": casts} for casts in range(session.casts_per_mix + 1, 5)]),
        (f"let {{}} instead of {session.group_size} share a bowl", [{"group_size": size} for size in range(session.group_size - 1, 0, -1)]),
        ("mix by a machine under vacuum", [{"mixing": "machine under vacuum", "turns": None}] * (not session.by_machine)),
    ]


def _remedies(session, moments, batch):
    """The least single changes that make the session fit; where there is none, pairs of small ones; and how long it is unchanged."""
    separate = {}

    def end_of(**changes):
        try:
            changed = replace(session, **changes)
        except Problem:                                    # too much of it for this course
            return math.inf
        if changed.casts_per_mix > session.casts_per_mix and _Steps.of(changed).poured > moments.pours_until_min:
            return math.inf                                # the last of the bowl would no longer pour
        if changed.mixing not in separate:
            separate[changed.mixing] = moments.separate_min if changed.mixing == session.mixing else _moments(changed, batch).separate_min
        return _end_min(changed, separate[changed.mixing])

    def first(*several):
        """The least of these changes together that fits."""
        for chosen in sorted(product(*(range(len(changes)) for _, changes in several)), key=lambda places: (sum(places), places)):
            together = [changes[place] for place, (_, changes) in zip(chosen, several)]
            end = end_of(**{name: value for one in together for name, value in one.items()})
            if end <= session.session_min:
                return [Remedy(" and ".join(words.format(next(iter(one.values()))) for one, (words, _) in zip(together, several)), end)]
        return []
    changes = [one for one in _changes(session) if one[1]]
    found = [remedy for one in changes for remedy in first(one)]
    for pair in () if found else combinations([(words, several[:3]) for words, several in changes], 2):
        found += first(*pair)
        if len(found) == MOST_PAIRS:
            break
    found += first((f"take {{}} students at a time instead of {session.students}", [{"students": math.ceil(session.students / parts)} for parts in (2, 3, 4)]))
    end = _end_min(session, moments.separate_min)
    return (*found, Remedy(f"take {end} min", end))


def _watches_while_busy(session, moments, turns):
    """Whether somebody alone at a bowl has to look at one mix while busy with another."""
    busy_min = _Steps.of(session).hands_min
    begun = defaultdict(list)
    for turn in turns:
        if session.groups[turn.group - 1] == 1:
            begun[turn.group].append(turn.weigh_min)
    return any(other < one + WEIGH_MIN + round(moment) < other + busy_min
               for weighed in begun.values() for one, other in product(weighed, repeat=2) if one != other
               for moment in (moments.gloss_loss_min, moments.final_set_min))


def _notes(session, moments, batch, turns):
    """What the reader must know beside the numbers."""
    kind, notes = POWDERS[session.powder], []
    off = batch.water_powder_ratio / session.water_powder_ratio - 1
    if abs(off) > RATIO_OFF_TOLD:
        notes.append(f"As weighed and measured the ratio is {batch.water_powder_ratio:.3f}, {100 * abs(off):.0f} % {'above' if off > 0 else 'below'} the one "
                     "wanted; a finer cylinder or a larger mix comes closer.")
    if moments.poured_min > moments.pours_until_min:
        until = f"pours only until about {moments.pours_until_min:.1f} min" if moments.pours_until_min else "is too stiff to pour from the start"
        steps = [(words, _Steps.of(replace(session, **change)).poured) for words, change, wanted in (
            ("leave the ring test out", {"ring_test": False}, session.ring_test), ("pour one cast from a bowl", {"casts_per_mix": 1}, batch.casts > 1),
            ("do both", {"ring_test": False, "casts_per_mix": 1}, session.ring_test and batch.casts > 1)) if wanted]
        helps = next((words for words, poured in steps if poured <= moments.pours_until_min), "take another powder, or another ratio within the maker's range")
        notes.append(f"Pouring ends at {moments.poured_min:g} min from the start of mixing, but this mix {until}: {helps}.")
    if session.ring_test and moments.ring_min > kind.standard_time_min + 1e-9:
        notes.append(f"The ring test of {kind.name} belongs at {kind.standard_time_min:g} min; here mixing leaves it to {moments.ring_min:g} min, where the "
                     "mix is stiffer.")
    if _watches_while_busy(session, moments, turns):
        notes.append("Who works alone is busy with the next mix when one loses its gloss or sets: ask a neighbour to look.")
    least, most = kind.setting.trusted_ratio
    if not least - 1e-9 <= batch.water_powder_ratio <= most + 1e-9:
        notes.append(f"The times of setting are extrapolated: they are made for a ratio of {least:g} to {most:g}.")
    return tuple(notes)
