"""A cube of a mix: what goes into it, and how warm it becomes while it sets."""

from gypsumkit.mix import predict_setting
from gypsumkit.powders import POWDERS
from gypsumkit.recipe import Recipe
from gypsumkit.remembering import remembered
from gypsumkit.science.pores import paste_volume_cm3_per_g


def recipe_of_cube(powder, ratio, edge_mm):
    """Return the recipe of a cube.

    Parameters
    ----------
    powder : str
        Name of a powder.
    ratio : float
        mL water per g powder.
    edge_mm : float
        Edge of the cube, mm.

    Returns
    -------
    Recipe
        With the powder that fills the cube, g.
    """
    volume = (edge_mm / 10.0) ** 3
    return Recipe(powder, ratio, powder_g=float(volume / paste_volume_cm3_per_g(ratio, POWDERS[powder].density_g_cm3.value)))


@remembered(128)
def peak(powder, ratio, edge_mm):
    """Return how warm a cube becomes and when.

    Parameters
    ----------
    powder : str
        Name of a powder.
    ratio : float
        mL water per g powder.
    edge_mm : float
        Edge of the cube, mm.

    Returns
    -------
    tuple of gypsumkit.mix.Prediction
        Peak temperature and its moment.
    """
    recipe = recipe_of_cube(powder, ratio, edge_mm)
    events = predict_setting(powder, ratio, recipe)
    return events["peak_temperature_c"], events["peak_temperature_min"]
