"""A table of numbers as HTML."""

from html import escape


def reached_by_key(name):
    """Return the attributes of a box round a table that scrolls, so that the keyboard reaches it and a screen reader names it."""
    return f'tabindex="0" role="region" aria-label="{escape(name)}"'


def table_html(table, styles=None):
    """Return a table of numbers.

    Parameters
    ----------
    table : gypsumkit.figures.scene.Table
        What it says.
    styles : dict of str to str, optional
        How "table", "caption", "head", "row" and "cell" look, for a page that has no style sheet for them.

    Returns
    -------
    str
        HTML, every string in it escaped.
    """
    look = {place: f' style="{style}"' for place, style in (styles or {}).items()}

    def of(place):
        return look.get(place, "")
    heads = "".join(f'<th scope="col"{of("head")}>{escape(head)}</th>' if head else f'<td{of("head")}></td>' for head in table.heads)
    rows = "".join(f'<tr><th scope="row"{of("row")}>{escape(row[0])}</th>' + "".join(f'<td{of("cell")}>{escape(cell)}</td>' for cell in row[1:]) + "</tr>"
                   for row in table.rows)
    caption = f'<caption{of("caption")}>{escape(table.caption)}</caption>' if table.caption else ""
    return f'<table{of("table")}>{caption}<thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>'
