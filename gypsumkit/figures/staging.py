"""A scene made ready for the projector: one picture at a time or two, wide and low, its letters and lines never too small.

Letters, lines and markers keep their size in picture units while a picture becomes lower than on the page, so that it fills a
screen that is wide and low, and everything in it grows.
"""

from dataclasses import replace

from gypsumkit.figures.scene import Line, Polygon, Rule, Scene, Text

WIDTH, HEIGHT = 460.0, 460.0          # picture units; a picture takes half of the screen, so that a unit is 2 px at 1920 px
PAIR_HEIGHT = 340.0                   # of two pictures side by side, which stand below the controls
LEAST_LETTERS, LEAST_LINE = 14.0, 1.6
NARROW = 300.0                        # pictures narrower than this stand in a row of many and keep their size


def shown_choices(scene):
    """Return what can be shown on the stage: each picture, and neighbours two by two.

    Parameters
    ----------
    scene : Scene
        The whole scene.

    Returns
    -------
    dict of str to tuple of int
        Places of the pictures by what the reader chooses from. Narrow pictures stay together.
    """
    pictures = scene.pictures
    if pictures[0].width < NARROW:
        return {"all": tuple(range(len(pictures)))}
    names = [title_of(picture) for picture in pictures]
    names = [name if names.count(name) == 1 else f"{name} ({place})" for place, name in enumerate(names, 1)]
    single = {name: (place,) for place, name in enumerate(names)}
    pairs = {f"{names[place]} + {names[place + 1]}": (place, place + 1) for place in range(len(names) - 1)}
    return {**single, **pairs}


def title_of(picture):
    """Return what a picture is called: the title of its first panel, else its name."""
    return picture.panels[0].title or picture.name


def staged(scene, places, height=HEIGHT):
    """Return the scene as the stage shows it.

    Parameters
    ----------
    scene : Scene
        The whole scene.
    places : sequence of int
        Which of its pictures.
    height : float
        How high they may be, picture units.

    Returns
    -------
    Scene
        With the same words and numbers.
    """
    pictures = [scene.pictures[place] for place in places if place < len(scene.pictures)] or list(scene.pictures[:1])
    return Scene(tuple(_staged_picture(picture, height) for picture in pictures), scene.words, scene.numbers)


def _staged_picture(picture, height):
    panels = tuple(replace(panel, backdrop=tuple(map(_staged_mark, panel.backdrop)), moving=tuple(map(_staged_mark, panel.moving)))
                   for panel in picture.panels)
    if picture.width < NARROW:
        return replace(picture, panels=panels)
    return replace(picture, panels=panels, width=WIDTH, height=min(picture.height, height))


def _staged_mark(mark):
    if isinstance(mark, Text) and mark.size < LEAST_LETTERS:
        return replace(mark, size=LEAST_LETTERS)
    if isinstance(mark, (Line, Polygon, Rule)) and 0 < mark.width < LEAST_LINE:
        return replace(mark, width=LEAST_LINE)
    return mark


def large_numbers(table):
    """Return the numbers that may be shown very large: the first cell with a number of every row.

    Parameters
    ----------
    table : Table or None
        The numbers of a scene.

    Returns
    -------
    dict of str to int
        Place of the row by its name.
    """
    rows = table.rows if table is not None else ()
    found = {}
    for place, row in enumerate(rows):
        if _column(row) is not None:
            found.setdefault(row[0], place)
    return found


def _column(row):
    return next((column for column, cell in enumerate(row) if column and _is_number(cell)), None)


def _is_number(cell):
    first = cell.strip()[:2].lstrip("−-+")
    return first[:1].isdigit() and len(cell) <= 40


def large_number(table, place):
    """Return a number to be shown very large: its name, the number with its unit, and its range.

    Parameters
    ----------
    table : Table or None
        The numbers of a scene.
    place : int or None
        Of the row; None for no number.

    Returns
    -------
    tuple of str or None
        Name, number with unit, and range or an empty text; None where there is none at present.
    """
    if table is None or place is None or place >= len(table.rows):
        return None
    row = table.rows[place]
    column = _column(row)
    if column is None:
        return None
    cell = row[column].strip()
    if cell.endswith(")") and " (" in cell:
        return row[0], *cell[:-1].split(" (", 1)
    beside = column + 1 < len(row) and "plausible range" in table.heads[column + 1]
    return row[0], cell, row[column + 1] if beside else ""
