"""What spatulation, salts, set gypsum and the state of the powder do to the resistances of the setting reaction."""

import numpy as np

STANDARD_TURNS = 180.0           # one minute by hand at three turns a second                      [trade]
EFFECT_PER_TURN = 0.0031         # from 14, 11 and 8 min at 20, 100 and 200 turns                  [craig_handbook]
NOTHING_MORE_AFTER = 200.0       # turns; beyond, the effect fades                                 [gypsumkit]
FADES_OVER = 60.0


def spatulation_factor(turns, water_powder_ratio, recommended_ratio):
    """What spatulation makes of the resistance of crystal growth: it breaks young crystals into more seeds.

    Parameters
    ----------
    turns : float or array, turns of the spatula, 20 to 300
    water_powder_ratio : float or array, mL/g
    recommended_ratio : float or array, mL/g

    Returns
    -------
    float or array, 1 for 180 turns at the recommended ratio, less for more turns

    Notes
    -----
    exp[-0.0031 (n - 180)], n = turns up to 200, then closing on 260, times (recommended/ratio)^1.5 within 20 % of 1
    [gypsumkit]; slope from three handbook times [craig_handbook], which it reproduces; it holds near them only.
    """
    turns = np.asarray(turns, dtype=float)
    beyond = np.maximum(turns - NOTHING_MORE_AFTER, 0.0)
    counted = np.minimum(turns, NOTHING_MORE_AFTER) + FADES_OVER * (1.0 - np.exp(-beyond / FADES_OVER))
    thicker = np.clip((recommended_ratio / np.asarray(water_powder_ratio, dtype=float)) ** 1.5, 0.8, 1.2)
    return np.exp(-EFFECT_PER_TURN * (counted * thicker - STANDARD_TURNS))


def potassium_sulfate_factor(percent):
    """What potassium sulfate makes of the resistance of crystal growth.

    Parameters
    ----------
    percent : float or array, % of the powder's mass, 0 to 4

    Returns
    -------
    float or array, 1 without, 0.35 at 2 %

    Notes
    -----
    1 / (1 + 0.93 percent) [gypsumkit], set by one pair of handbook times, 10 to 4 min with 2 % [craig_handbook].
    """
    return 1.0 / (1.0 + 0.93 * np.asarray(percent, dtype=float))


def sodium_chloride_factor(percent):
    """What table salt makes of the resistance of crystal growth: less up to 2 %, then more again.

    Parameters
    ----------
    percent : float or array, % of the powder's mass, 0 to 4

    Returns
    -------
    float or array, 1 without, 0.61 at 2 %, 1 again at 4 %

    Notes
    -----
    exp[-(percent/2)(1 - percent/4)] [gypsumkit]; that it hastens the set up to about 2 % and not beyond is handbook knowledge
    [craig_handbook].
    """
    c = np.asarray(percent, dtype=float)
    return np.exp(-0.5 * c * (1.0 - 0.25 * c))


def borax_factor(percent):
    """What borax makes of the resistance of crystal growth: it coats the young crystals.

    Parameters
    ----------
    percent : float or array, % of the powder's mass, 0 to 1

    Returns
    -------
    float or array, 1 without, 4.1 at 1 %

    Notes
    -----
    exp(1.4 percent) [gypsumkit]; direction from handbooks [craig_handbook]. Borax is classed as toxic for reproduction in the
    European Union: simulate it, or leave it to the demonstrator and the data sheet.
    """
    return np.exp(1.4 * np.asarray(percent, dtype=float))


def citrate_factor(percent):
    """What sodium citrate makes of the resistance of crystal growth.

    Parameters
    ----------
    percent : float or array, % of the powder's mass, 0 to 0.1

    Returns
    -------
    float or array, 1 without, 7.4 at 0.1 %

    Notes
    -----
    exp(20 percent) [gypsumkit]; direction from handbooks [craig_handbook].
    """
    return np.exp(20.0 * np.asarray(percent, dtype=float))


def seeds_with_set_gypsum(percent, seed):
    """Seeds at the start once ground set gypsum, as in slurry water, is added.

    Parameters
    ----------
    percent : float or array, % of the powder's mass, 0 to 2
    seed : float or array, seeds without it

    Returns
    -------
    float or array, crystal present at the start over the crystal at the end

    Notes
    -----
    seed + 0.01 percent M(hemihydrate)/M(gypsum) [iupac_weights]; the growth resistance falls as the cube root of seed before
    over seed after, for crystals of one size [gypsumkit].
    """
    return np.asarray(seed, dtype=float) + 0.00843 * np.asarray(percent, dtype=float)
