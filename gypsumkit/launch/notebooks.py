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
    try:
        found = json.loads(content.decode("utf-8"))
    except RecursionError:
        raise ValueError("nested too deeply for a notebook") from None
    if not _is_notebook(found):
        raise ValueError("not a notebook")
    return found


def _is_notebook(found):
    """Tell whether this has the form of a notebook, as far as the launcher reads one."""
    return (isinstance(found, dict) and isinstance(found.get("metadata"), dict)
            and isinstance(found.get("cells"), list) and all(map(_is_cell, found["cells"])))


def _is_cell(found):
    """Tell whether this has the form of a notebook's cell."""
    if not isinstance(found, dict) or not isinstance(found.get("cell_type"), str):
        return False
    source, outputs = found.get("source"), found.get("outputs", [])
    pieces = source if isinstance(source, list) else [source]
    return (all(isinstance(piece, str) for piece in pieces) and isinstance(outputs, list)
            and all(isinstance(output, dict) and isinstance(output.get("data", {}), dict) for output in outputs))


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
    cells = [[cell["cell_type"], written_in(cell)] for cell in read_notebook(content)["cells"]]
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
        The very same bytes where there was nothing to take out, or where the rest cannot be written again
        as it stands.

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
    try:
        return (json.dumps(notebook, indent=1, ensure_ascii=False) + "\n").encode("utf-8")
    except (RecursionError, UnicodeEncodeError):
        return content
