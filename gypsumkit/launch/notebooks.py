"""Read a notebook as the plain file it is, and tell what a person wrote in it from what Lab stored."""

import hashlib
import json

WIDGET_VIEW = "application/vnd.jupyter.widget-view+json"


def read_notebook(content):
    """Return a notebook as plain dictionaries and lists.

    Parameters
    ----------
    content : bytes
        The content of an .ipynb file.

    Returns
    -------
    dict

    Raises
    ------
    ValueError
        When it is not a notebook, or is damaged.
    """
    notebook = json.loads(content.decode("utf-8"))
    try:
        for cell in notebook["cells"]:
            written_in(cell)
            for output in cell.get("outputs", []):
                dict(output.get("data", {}))
        dict(notebook["metadata"])
    except (AttributeError, KeyError, TypeError, ValueError):
        raise ValueError("not a notebook") from None
    return notebook


def written_in(cell):
    """Return what a person wrote in a cell, in one piece and with plain line ends.

    Parameters
    ----------
    cell : dict
        A cell of a notebook.

    Returns
    -------
    str
    """
    return "".join(cell["source"]).replace("\r\n", "\n")


def fingerprint(content):
    """Return a fingerprint of what a person wrote in a notebook: the text of its cells, and nothing else.

    Outputs, counts, metadata and the empty cell that Lab adds at the end do not count.

    Parameters
    ----------
    content : bytes
        The content of an .ipynb file.

    Returns
    -------
    str

    Raises
    ------
    ValueError
        When it is not a notebook, or is damaged.
    """
    cells = [[cell.get("cell_type"), written_in(cell)] for cell in read_notebook(content)["cells"]]
    written = [cell for cell in cells if cell[1].strip()]
    return hashlib.sha256(json.dumps(written).encode("utf-8")).hexdigest()


def without_stale_views(content):
    """Return a notebook without the widgets whose kernel has long ended; all else stays as it was.

    Parameters
    ----------
    content : bytes
        The content of an .ipynb file.

    Returns
    -------
    bytes
        The very same bytes where there was nothing to take out.

    Raises
    ------
    ValueError
        When it is not a notebook, or is damaged.
    """
    notebook = read_notebook(content)
    changed = notebook["metadata"].pop("widgets", None) is not None
    for cell in notebook["cells"]:
        for output in cell.get("outputs", []):
            changed = output.get("data", {}).pop(WIDGET_VIEW, None) is not None or changed
        if "outputs" in cell:
            cell["outputs"] = [output for output in cell["outputs"] if output.get("data") != {}]
    if not changed:
        return content
    return (json.dumps(notebook, indent=1, ensure_ascii=False) + "\n").encode("utf-8")
