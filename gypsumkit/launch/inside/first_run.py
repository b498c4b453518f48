"""Run a lesson on a running server before the student sees it, so that its pictures live from the first moment.

The lesson keeps its running kernel: when Lab opens the file it finds the kernel by the file's name, and the
widgets in the stored outputs connect to it.
"""

import json
import os
import sys
import time
import urllib.parse
import urllib.request
from pathlib import Path

import nbformat
from jupyter_client import BlockingKernelClient
from jupyter_core.paths import jupyter_runtime_dir
from nbformat.sign import NotebookNotary

from gypsumkit.files import write_whole

CELL_LIMIT_S = 60


def run_lesson(base, token, copy):
    """Run every cell of a lesson in a session of the server, and store and sign what came out.

    Parameters
    ----------
    base : str
        The server's address without a path.
    token : str
        The token that lets in.
    copy : pathlib.Path
        The lesson, in the folder that the server shows.

    Raises
    ------
    RuntimeError
        When a cell fails; the file is then left as it was and the session is ended.
    """
    lesson = nbformat.read(copy, as_version=4)
    session = _ask(base, token, "POST", "sessions", {
        "path": copy.name, "name": copy.name, "type": "notebook", "kernel": {"name": "python3"}})
    try:
        kernel = BlockingKernelClient()
        kernel.load_connection_file(os.path.join(jupyter_runtime_dir(), "kernel-{}.json".format(session["kernel"]["id"])))
        kernel.start_channels()
        try:
            kernel.wait_for_ready(timeout=CELL_LIMIT_S)
            for cell in lesson.cells:
                if cell.cell_type == "code":
                    _run_cell(kernel, cell)
        finally:
            kernel.stop_channels()
        write_whole(copy, nbformat.writes(lesson).encode("utf-8"))
        NotebookNotary().sign(nbformat.read(copy, as_version=4))
    except BaseException:
        _ask(base, token, "DELETE", "sessions/" + urllib.parse.quote(session["id"]))
        raise


def _run_cell(kernel, cell):
    """Run one cell and put what came out of it, and the count, where Lab would."""
    outputs = []

    def keep(message):
        """Keep what a reader is to see."""
        if message["msg_type"] in ("display_data", "execute_result", "stream", "error"):
            outputs.append(nbformat.v4.output_from_msg(message))

    reply = kernel.execute_interactive(cell.source, output_hook=keep, timeout=CELL_LIMIT_S)["content"]
    if reply["status"] != "ok":
        raise RuntimeError("a cell failed: {}: {}".format(reply.get("ename"), reply.get("evalue")))
    cell.outputs = outputs
    cell.execution_count = reply["execution_count"]


def _ask(base, token, method, place, content=None):
    """Ask the server's programming interface for something."""
    request = urllib.request.Request(
        "{}/api/{}".format(base, place), method=method, data=None if content is None else json.dumps(content).encode("utf-8"),
        headers={"Authorization": "token " + token, "Content-Type": "application/json"})
    direct = urllib.request.build_opener(urllib.request.ProxyHandler({}))
    with direct.open(request, timeout=CELL_LIMIT_S) as answer:
        return json.loads(answer.read() or b"null")


if __name__ == "__main__":
    started = time.monotonic()
    run_lesson(sys.argv[1], os.environ["JUPYTER_TOKEN"], Path(sys.argv[2]))
    print("ran in {:.1f} s".format(time.monotonic() - started))
