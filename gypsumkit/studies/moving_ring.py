"""One ring test that is lifted, shaken and left alone, with the plausible range of where it stops."""

import numpy as np

from gypsumkit import powders
from gypsumkit.problems import Problem
from gypsumkit.science import ring, ring_motion
from gypsumkit.science.ring_motion import Flowing, State


class MovingRing:
    """A full ring of a mix on a plate that can be shaken.

    Parameters
    ----------
    mix : gypsumkit.mix.Mix
        What is in the ring.

    Raises
    ------
    Problem
        When the spread of this mix cannot be predicted at its moment.
    """

    def __init__(self, mix):
        if mix.spread_mm.value is None:
            raise Problem(f"{mix.spread_mm.reason[0].upper()}{mix.spread_mm.reason[1:]}.")
        self.mix = mix
        self.flowing = (_likely(mix), _at_the_end(mix, "low"), _at_the_end(mix, "high"))
        self.vibrating = False
        self.runs = None

    @property
    def is_paste(self):
        """Whether the mix can still flow at all: false once it has lost its gloss."""
        return self.mix.yield_stress_pa.value is not None

    @property
    def lifted(self):
        """Whether the ring has been lifted."""
        return self.runs is not None

    @property
    def run(self):
        """The motion since the ring was lifted or the vibrator last switched; None while the ring stands."""
        return self.runs[0] if self.lifted else None

    @property
    def begun_s(self):
        """The moment at which the present motion begins, s since the ring began to rise."""
        return float(self.run.seconds[0])

    @property
    def ring_mm(self):
        """Diameter and height of the ring, mm."""
        return self.mix.ring_mm

    def courses(self):
        """Return the moments of the present motion and the spread ratio at them, as `RingRow.courses` does for several."""
        return self.run.seconds, self.run.spread_ratio[:, np.newaxis]

    def lift(self):
        """Lift the ring.

        Raises
        ------
        Problem
            When it is up already.
        """
        if self.lifted:
            raise Problem("The ring is up already; press “Again” to fill a new one.")
        full = State(0.0, float(self.vibrating), 1.0)
        self.runs = tuple(ring_motion.motion(each, full) for each in self.flowing)

    def switch(self, on, seconds=0.0):
        """Switch the vibrator.

        Parameters
        ----------
        on : bool
            On or off.
        seconds : float
            s since the ring began to rise; of no account while it stands.

        Raises
        ------
        Problem
            When it is so already.
        """
        if on == self.vibrating:
            raise Problem(f"The vibrator is {'on' if on else 'off'} already.")
        self.vibrating = on
        if self.lifted:
            states = [run.at(seconds) for run in self.runs]
            self.runs = tuple(ring_motion.motion(each, state, ((state.seconds, on),)) for each, state in zip(self.flowing, states))

    def spread_now_mm(self, seconds=0.0):
        """Return the spread at a moment.

        Parameters
        ----------
        seconds : float
            s since the ring began to rise.

        Returns
        -------
        float
            mm.
        """
        return self.mix.ring_mm[0] * (self.run.at(seconds).spread_ratio if self.lifted else 1.0)

    def end_mm(self):
        """Return where it stops if nothing more is done: value, low and high.

        Returns
        -------
        tuple of float
            mm; the diameter of the ring while it stands.
        """
        diameter = self.mix.ring_mm[0]
        return tuple(diameter * run.end.spread_ratio for run in self.runs) if self.lifted else (diameter,) * 3

    def creeps(self):
        """Whether a very runny mix still creeps when the run ends."""
        return self.lifted and not ring_motion.at_rest(self.run.end, self.flowing[0])


NO_LONGER_A_PASTE_PA, ITS_VISCOSITY_PA_S = 1e6, 1e6      # of a mass that has lost its gloss: it stands, whatever is done


def _likely(mix):
    paste = mix.yield_stress_pa.value is not None
    return Flowing(float(mix.yield_stress_pa.value) if paste else NO_LONGER_A_PASTE_PA,
                   float(mix.plastic_viscosity_pa_s.value) if paste else ITS_VISCOSITY_PA_S,
                   float(mix.wet_density_g_cm3.value), powders.VIBRATION_THINNING.value, mix.ring_mm)


def _at_the_end(mix, which):
    """The stiffest or the softest plausible mix: one that stops at that end of the range, still and on the vibrator."""
    diameter, height = mix.ring_mm
    likely = _likely(mix)
    density = likely.density_g_cm3
    foot = density * ring.GRAVITY_M_S2 * height
    still, shaken = (foot * float(ring.resting_stiffness(getattr(each, which) / diameter, diameter, height))
                     for each in (mix.spread_mm, mix.vibrated_spread_mm))
    return Flowing(still, likely.plastic_viscosity_pa_s, density, max(still / shaken - 1.0, 0.0), mix.ring_mm)
