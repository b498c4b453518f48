"""Hands before and after discussion as bars."""

from gypsumkit.figures.scene import Panel, Picture, Polygon, Scene, Table, Text


def hands_scene(letters, before, after, words, right=None, rows=()):
    """Describe the hands of one question.

    Parameters
    ----------
    letters : sequence of str
        Of the options.
    before, after : dict of str to int
        Hands by letter; empty when not counted yet.
    words : str
        The counts in words.
    right : str, optional
        Letter of the right option once it is revealed.
    rows : sequence of (str, str)
        Numbers to show beside.

    Returns
    -------
    Scene
    """
    most = max([5, *before.values(), *after.values()])
    marks = []
    for place, letter in enumerate(letters):
        for hands, left, fill, edge, hatch in ((before, place - 0.36, "pale grey", "dark grey", "rising"), (after, place + 0.02, "pale blue", "blue", "level")):
            if hands:
                count = hands[letter]
                marks += [Polygon([left, left + 0.34, left + 0.34, left], [0, 0, count, count], fill=fill, edge=edge, hatch=hatch, width=2.5),
                          Text(left + 0.17, count, f"{count}", height="bottom", up=4, bold=True, size=22)]
    legend = [*_named(most, 1.34, "pale grey", "dark grey", "rising", "before discussion"), *_named(most, 1.25, "pale blue", "blue", "level", "after discussion")]
    ticks = tuple((place, f"{letter}: right" if letter == right else letter) for place, letter in enumerate(letters))
    panel = Panel("hands", (-0.5, len(letters) - 0.5), (0, 1.45 * most), title="Hands", y_label="number of hands", x_ticks=ticks,
                  y_ticks=tuple(range(0, most + 1, max(1, most // 4))), backdrop=tuple(legend), moving=tuple(marks))
    return Scene((Picture("hands", (panel,), words, height=380),), words, Table(("", "now"), tuple(rows), "Hands") if rows else None)


def _named(most, height, fill, edge, hatch, name):
    """A small area and what it stands for."""
    low, high = most * height, most * (height + 0.06)
    return (Polygon([-0.45, -0.2, -0.2, -0.45], [low, low, high, high], fill=fill, edge=edge, hatch=hatch),
            Text(-0.12, 0.5 * (low + high), name, anchor="start", size=16))
