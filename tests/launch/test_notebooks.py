"""What in a notebook is a person's, and what Lab put there."""

import json

import pytest

from gypsumkit.launch.notebooks import WIDGET_VIEW, fingerprint, read_notebook, without_stale_views
from tests.launch.conftest import notebook

PLAIN = notebook("# Water", "code:1 + 1")


def changed(content, change):
    """Return a notebook after `change` was made to it."""
    made = json.loads(content)
    change(made)
    return json.dumps(made).encode("utf-8")


@pytest.mark.parametrize("change", [
    lambda made: made["cells"][1].update(outputs=[{"output_type": "stream", "name": "stdout", "text": "2"}]),
    lambda made: made["cells"][1].update(execution_count=17),
    lambda made: made["cells"][0]["metadata"].update(collapsed=True),
    lambda made: made["metadata"].update(widgets={"state": {}}),
    lambda made: made["cells"][0].update(source="# Water"),
    lambda made: made["cells"].append({"cell_type": "code", "id": "x", "metadata": {}, "source": " \n", "outputs": []}),
], ids=["outputs", "count", "cell metadata", "widget state", "text in one piece", "empty cell at the end"])
def test_what_lab_stores_is_not_an_edit(change):
    assert fingerprint(changed(PLAIN, change)) == fingerprint(PLAIN)


@pytest.mark.parametrize("change", [
    lambda made: made["cells"][1].update(source="1 + 2"),
    lambda made: made["cells"][0].update(source="# Water "),
    lambda made: made["cells"][0].update(cell_type="raw"),
    lambda made: made["cells"].append({"cell_type": "markdown", "id": "x", "metadata": {}, "source": "my note"}),
    lambda made: made["cells"].reverse(),
    lambda made: made["cells"].pop(),
], ids=["code", "text", "kind", "own cell", "order", "cell gone"])
def test_what_a_person_writes_is_an_edit(change):
    assert fingerprint(changed(PLAIN, change)) != fingerprint(PLAIN)


@pytest.mark.parametrize("content", [
    b"", b"{", PLAIN[:-30], b"[]", b'{"cells": 3, "metadata": {}}', b'{"cells": [1], "metadata": {}}', b'{"cells": []}',
    b'{"cells": [{"cell_type": "raw", "source": [1]}], "metadata": {}}', b'{"cells": [{"source": ""}], "metadata": {}}',
    b'{"cells": [{"cell_type": "code", "source": "", "outputs": [3]}], "metadata": {}}', b'{"cells": [], "metadata": []}',
    b'{"cells": [{"cell_type": "code", "source": "", "outputs": [{"data": []}]}], "metadata": {}}', b"\xff\xfe",
    b"[" * 100_000, b'{"cells": ' + b"[" * 100_000,
], ids=lambda content: content[:40].decode("ascii", "replace"))
def test_what_is_damaged_is_known_as_such(content):
    with pytest.raises(ValueError):
        read_notebook(content)


def test_stale_views_go_and_the_rest_stays():
    kept = {"output_type": "execute_result", "data": {"text/plain": ["words"], WIDGET_VIEW: {"model_id": "1"}},
            "metadata": {}, "execution_count": 1}
    bare = {"output_type": "display_data", "data": {WIDGET_VIEW: {"model_id": "2"}}, "metadata": {}}
    cleaned = json.loads(without_stale_views(notebook("# Wäter", "code:1", outputs=[kept, bare], widgets={"state": {}})))
    assert [output["data"] for output in cleaned["cells"][1]["outputs"]] == [{"text/plain": ["words"]}]
    assert "widgets" not in cleaned["metadata"] and "kernelspec" in cleaned["metadata"]
    assert cleaned["cells"][0]["source"] == ["# Wäter"]


def test_a_notebook_that_cannot_be_written_again_keeps_its_views():
    content = notebook("# Water", widgets={"state": {}}).replace(b"# Water", b"half a sign \\ud800")
    assert fingerprint(content) and without_stale_views(content) is content


def test_a_notebook_without_views_keeps_its_very_bytes():
    assert without_stale_views(PLAIN) is PLAIN
