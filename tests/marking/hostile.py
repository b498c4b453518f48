"""What a returned paper may hold at its worst: one kind after another, each in a paper or a file of its own.

Code kinds print GOT and what they got when they succeed; nothing of the kind may ever come back.
"""

import io
import json
import os
import struct
import zipfile

ATTEMPT = """
def attempt(what):
    got = what()
    print("GOT", str(got)[:40])
"""

# Answers that are code. In braces: canary (a folder), scheme (the mark scheme), papers, port (a listener), marker (the process that marks).
CODE = {
    "endless loop": "while True: pass",
    "endless loop that catches everything": "while True:\n    try:\n        while True: pass\n    except BaseException: pass",
    "sleeps for ever": "import time\ntime.sleep(10000)",
    "fork bomb": "import os\nwhile True:\n    os.fork()\n    print('GOT a process')",
    "fork bomb that catches": "import os\nwhile True:\n    try: os.fork()\n    except OSError: pass",
    "threads without end": "import threading\nwhile True:\n    threading.Thread(target=lambda: [None for _ in iter(int, 1)]).start()",
    "memory bomb": "x = ['a' * 1000000]\nwhile True: x = x + x + ['b' * 5000000]",
    "one huge number": "answer = 10 ** (10 ** 9)",
    "endless recursion": "def f(): f()\nf()",
    "crash of the interpreter": "import ctypes\nctypes.string_at(0)",
    "writes to stdout without end": "while True: print('x' * 10000)",
    "writes to stderr without end": "import sys\nwhile True: sys.stderr.write('x' * 10000)",
    "one line without end": "import sys\nwhile True: sys.stdout.write('9'); sys.stdout.flush()",
    "writes a huge file": "with open('/own/a', 'wb') as f:\n    while True: f.write(bytes(1000000))",
    "many files": "for i in range(100000): open(f'/own/{{i}}', 'w').close()\nprint('GOT files')",
    "many open files": "held = [open('/program.py') for i in range(10000)]\nprint('GOT', len(held))",
    "deletes a tree": "import shutil\nattempt(lambda: shutil.rmtree({canary!r}))",
    "deletes everything": "import os\nfor top, folders, files in os.walk('/', topdown=False):\n    for name in files:\n        try: os.unlink(os.path.join(top, name)); print('GOT', name)\n"
                          "        except OSError: pass\nraise SystemExit('nothing')",
    "overwrites a file": "attempt(lambda: open({canary!r} + '/a.txt', 'w').write('changed'))",
    "reads the mark scheme by path": "attempt(lambda: open({scheme!r}).read())",
    "reads the mark scheme by a relative path": "attempt(lambda: open('../../../../../../../..' + {scheme!r}).read())",
    "reads the mark scheme through proc": "attempt(lambda: open('/proc/{marker}/root' + {scheme!r}).read())",
    "reads its own keeper through proc": "attempt(lambda: open('/proc/1/environ').read())",
    "reads the papers of others": "import os\nattempt(lambda: os.listdir({papers!r}))",
    "makes a link to the mark scheme": "import os\nos.symlink({scheme!r}, '/own/s')\nattempt(lambda: open('/own/s').read())",
    "leaves the room by chroot": "import os\nos.mkdir('/own/r')\nos.chroot('/own/r')\nos.chdir('../../../../..')\nattempt(lambda: open({scheme!r}).read())",
    "mounts the world": "import ctypes\nattempt(lambda: 1 / (ctypes.CDLL(None).mount(b'proc', b'/own', b'proc', 0, None) == 0))",
    "own user space, then mounts": "import ctypes\nlibc = ctypes.CDLL(None)\nlibc.unshare(0x10020000)\nlibc.mount(b'none', b'/course', b'tmpfs', 0, None)\nattempt(lambda: open({scheme!r}).read())",
    "opens a file by its number": "import os\nfor n in range(3, 64):\n    try:\n        print('GOT', os.read(n, 10))\n    except OSError: pass\nraise SystemExit('nothing')",
    "calls the network": "import socket\nattempt(lambda: socket.create_connection(('127.0.0.1', {port}), timeout=2))",
    "calls a name on the network": "import urllib.request\nattempt(lambda: urllib.request.urlopen('http://gypsum.invalid', timeout=2).read())",
    "listens on the network": "import socket\nattempt(lambda: socket.create_connection(('10.0.0.1', 80), timeout=2))",
    "starts a shell": "import subprocess\nattempt(lambda: subprocess.run(['/bin/sh', '-c', 'id'], capture_output=True, check=True).stdout)",
    "starts a python": "import subprocess, sys\nattempt(lambda: subprocess.run([sys.executable, '-c', 'print(1)'], capture_output=True, check=True).stdout)",
    "kills its parent": "import os, signal\nattempt(lambda: os.kill(os.getppid() or {marker}, signal.SIGKILL))",
    "kills everybody": "import os, signal\nattempt(lambda: os.kill(-1, signal.SIGKILL))",
    "kills its group": "import os, signal\nos.killpg(0, signal.SIGKILL)\nraise SystemExit('nothing')",
    "ignores every signal": "import signal\nfor n in range(1, 65):\n    try: signal.signal(n, signal.SIG_IGN)\n    except (OSError, ValueError): pass\nwhile True: pass",
    "leaves its session": "import os\nos.setsid()\nwhile True: pass",
    "raises its limits": "import resource\nattempt(lambda: resource.setrlimit(resource.RLIMIT_AS, (1 << 40, 1 << 40)) or 1)",
    "becomes the master": "import os\nattempt(lambda: os.setuid(0) or 1)",
    "sys.exit": "import sys\nsys.exit('all right')",
    "os._exit": "import os\nos._exit(0)",
    "stops itself": "import os, signal\nos.kill(os.getpid(), signal.SIGSTOP)\nwhile True: pass",
    "patches gypsumkit": "import gypsumkit.marking.tasks as t\nt.DrawnTask.mark = lambda *a: 'full'\nopen(t.__file__, 'a').write('x')\nprint('GOT it')",
    "patches print and open": "import builtins\nbuiltins.print = builtins.open = lambda *a, **k: 1 / 0\nanswer = 'nothing'",
    "patches the number": "class Any(float):\n    def __eq__(s, o): return True\n    def __str__(s): return 'every number'\nanswer = Any()",
    "a result that never ends": "class Long:\n    def __str__(s):\n        while True: pass\nanswer = Long()",
    "pickle that runs": "import pickle, os\nclass P:\n    def __reduce__(s): return (open, ({scheme!r},))\nattempt(lambda: pickle.loads(pickle.dumps(P())).read())",
    "a result that is HTML": "answer = '<script>alert(1)</script>'",
    "a result that is a formula": "answer = '=HYPERLINK(1)'",
    "a result of terminal codes": "print('\\x1b]0;owned\\x07\\x1b[2J')",
    "forged messages to the keeper": "import os\nfor n in range(3, 200):\n    try: os.write(n, b'{{\"ended\": 0}}\\n')\n    except OSError: pass\nraise SystemExit('nothing')",
    "NUL in the code": "answer = 1\x00",
    "no Python": "answer = = 1",
    "brackets without end": "answer = " + "(" * 5000,
    "another answer each time": "import random\nanswer = random.random()",
    "a module of ours left behind": "import os\nopen('/course/gypsumkit/marking/sitecustomize.py', 'w').write('1')\nprint('GOT it')",
}

# Answers that are text.
TEXT = {
    "HTML": "<b>7</b><img src=x onerror=alert(1)>",
    "script": "<script>document.location='//x'</script>",
    "script in a link": "[x](javascript:alert(1))",
    "closing tags": "</td></table></body></html><h1>PASS</h1>",
    "formula": "=1+1",
    "formula of the command line": "=cmd|' /C calc'!A0",
    "formula behind a blank": "\t =SUM(A1)",
    "formula with at": "@SUM(1+1)*cmd",
    "formula after a separator": "1;=HYPERLINK(\"x\")",
    "cell that ends the row": "7\",\"\r\n1001,1,T,a,99,99",
    "right-to-left override": "\u202e12 Lm",
    "signs nobody sees": "4\u200b2\u2060 mL",
    "lone surrogate": "42 \ud800 mL",
    "NUL": "42\x00 mL",
    "terminal codes": "\x1b[2J\x1b]0;x\x07",
    "zalgo": "4" + "\u0301" * 3000,
    "digits without end": "9" * 3900,
    "exponent without end": "1e999999999",
    "fraction by nothing": "1/0",
    "not a number": "NaN mL",
    "infinite": "inf",
    "negative": "-1e308 mL",
    "too long": "x" * 100_000,
    "slow for patterns": "1 " * 1900 + "!",
    "slow for patterns, units": "1 mL per " * 400,
    "slow for patterns, stars": "*" * 3999 + "x",
    "template": "{{7*7}} ${7*7} {numbers} %s %n",
    "names of Python": "__import__('os').system('id')",
    "path": "../../private/scheme.json",
    "Markdown heading of another answer": "**Answer 1 (a):** 42 mL\n\n## Task 2",
    "candidate number in an answer": "Candidate number: 1000",
}


def texts(paper, name):
    """Return the first text cell whose id begins like this."""
    return next(one for one in paper["cells"] if one["id"].startswith(name))


def _repeated(paper):
    paper["cells"] *= 2


def _another_number(paper):
    front = texts(paper, "front")
    front["source"] += "\n\nCandidate number: 1000"


def _changed(paper):
    texts(paper, "task-2")["source"] += " The answer is 42."


def _gone(paper):
    paper["cells"] = [one for one in paper["cells"] if not one["id"].startswith(("task-2", "answer-2"))]


def _without_ids(paper):
    for one in paper["cells"]:
        del one["id"]
    paper["cells"].append({"cell_type": "markdown", "metadata": {}, "source": "please be kind"})


def _turned(paper):
    for one in paper["cells"]:
        if one["id"].startswith("answer"):
            one["cell_type"] = "markdown" if one["cell_type"] == "code" else "code"


def _ids_with_paths(paper):
    paper["cells"].append({"cell_type": "markdown", "id": "../../../private/x", "metadata": {}, "source": "../../x"})
    paper["cells"].append({"cell_type": "markdown", "id": "answer-999-z", "metadata": {}, "source": "**Answer 999 (z):** 1"})


def _sources_of_any_kind(paper):
    paper["cells"] += [{"id": "a", "source": 7}, {"id": 7, "source": ["a", 7]}, None, [], "cell", {"source": None}, {"cell_type": {"a": 1}, "id": [], "source": "x"}]


def _impostor(paper):
    texts(paper, "front")["source"] = texts(paper, "front")["source"].replace("Candidate number: ", "Candidate number: 1000 was ")


# Changes to a whole paper: the kind of finding that has to say so.
PAPER = {
    "every cell twice": (_repeated, "cell twice"),
    "two candidate numbers": (_another_number, "two numbers"),
    "text changed": (_changed, "text changed"),
    "cells missing": (_gone, "cell missing"),
    "no ids and a cell added": (_without_ids, "cell added"),
    "kinds of cells turned": (_turned, "cell of another kind"),
    "path tricks in ids": (_ids_with_paths, "cell added"),
    "cells of any kind": (_sources_of_any_kind, "damaged"),
    "impostor": (_impostor, "another paper"),
}


def _notebook(source):
    return json.dumps({"cells": [{"cell_type": "markdown", "id": "front", "metadata": {}, "source": source}], "metadata": {}, "nbformat": 4, "nbformat_minor": 5})


# Whole files, made from a right paper as bytes: the kind of finding that has to say so.
FILES = {
    "empty": (lambda paper: b"", "empty"),
    "only blanks": (lambda paper: b" \n\xef\xbb\xbf\x00" * 100, "empty"),
    "truncated": (lambda paper: paper[:len(paper) // 2], "damaged"),
    "broken in the middle": (lambda paper: paper[:3000] + b'"}' + paper[3000:], "damaged"),
    "picture": (lambda paper: b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 20, "not a notebook"),
    "program": (lambda paper: b"\x7fELF" + bytes(5000), "not a notebook"),
    "web page": (lambda paper: b"<html><script>alert(1)</script>", "not a notebook"),
    "plain list": (lambda paper: b"[1, 2, 3]", "not a notebook"),
    "one number": (lambda paper: b"7", "not a notebook"),
    "no cells": (lambda paper: b'{"cells": {"0": "x"}}', "not a notebook"),
    "pickle": (lambda paper: b"\x80\x04cos\nsystem\n(S'id'\ntR.", "not a notebook"),
    "office document": (lambda paper: b"PK\x03\x04" + bytes(500), "not a notebook"),
    "deep nesting": (lambda paper: b'{"cells":' + b"[" * 100_000 + b"]" * 100_000 + b"}", "nested deeply"),
    "deep nesting of objects": (lambda paper: b'{"a":' * 50_000 + b"1" + b"}" * 50_000, "nested deeply"),
    "nesting just below the stack": (lambda paper: b'{"cells":' + b"[" * 900 + b"]" * 900 + b"}", "nested deeply"),
    "duplicate keys": (lambda paper: paper.rstrip()[:-1] + b', "cells": []}', "said twice"),
    "NaN": (lambda paper: paper.replace(b'"nbformat":', b'"x": NaN, "nbformat":', 1), "damaged"),
    "Infinity": (lambda paper: paper.replace(b'"nbformat":', b'"x": -Infinity, "nbformat":', 1), "damaged"),
    "number of a million digits": (lambda paper: b'{"x": ' + b"9" * 1_000_000 + b', "cells": "none"}', "not a notebook"),
    "broken UTF-8": (lambda paper: paper.replace(b"Task", b"T\xff\xfe\xc0sk", 1), "broken signs"),
    "UTF-16": (lambda paper: paper.decode().encode("utf-16"), "encoding"),
    "UTF-16 without its mark": (lambda paper: paper.decode().encode("utf-16-be"), "encoding"),
    "half of UTF-16": (lambda paper: paper.decode().encode("utf-16")[:2001], "damaged"),
    "a million cells": (lambda paper: b'{"cells": [' + b'{"source": ""},' * 400_000 + b'{"source": ""}]}', "too large"),
    "nobody's paper": (lambda paper: _notebook("Candidate number: 9999").encode(), "unknown candidate"),
    "number with a path": (lambda paper: _notebook("Candidate number: ../../etc/passwd").encode(), "unknown candidate"),
    "number that is a script": (lambda paper: _notebook("Candidate number: <script>alert(1)</script>").encode(), "unknown candidate"),
    "number that is a formula": (lambda paper: _notebook("Candidate number: =1+1").encode(), "unknown candidate"),
    "number turned round": (lambda paper: _notebook("Candidate number: \u202e0001").encode(), "unknown candidate"),
}


def huge(path):
    """Write a paper with a cell of 100 MB."""
    with open(path, "wb") as file:
        file.write(b'{"cells": [{"cell_type": "markdown", "id": "answer-1-a", "source": "')
        for _ in range(100):
            file.write(b"A" * 1_000_000)
        file.write(b'"}]}')


def odd_places(folder):
    """Put into a folder what is no file; return the names and the kind of finding for each."""
    made = {"a folder.ipynb": "not a file", "a link.ipynb": "not a file", "a pipe.ipynb": "not a file", "round.ipynb": "not a file", ".hidden.ipynb": "left out"}
    (folder / "a folder.ipynb").mkdir()
    (folder / "a folder.ipynb" / "1.ipynb").write_bytes(b"{}")
    os.symlink(folder.parent / "private" / "scheme.json", folder / "a link.ipynb")
    os.symlink("round.ipynb", folder / "round.ipynb")
    os.mkfifo(folder / "a pipe.ipynb")
    (folder / ".hidden.ipynb").write_bytes(b"{}")
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        os.mknod(folder / "a device.ipynb", 0o20666, os.makedev(1, 5))             # /dev/zero
        made["a device.ipynb"] = "not a file"
    raw = os.path.join(os.fsencode(folder), b"\xff\xfe broken name.ipynb")
    with open(raw, "wb") as file:
        file.write(b"no notebook")
    made["�� broken name.ipynb"] = "not a notebook"
    return made


def archives(paper):
    """Return archives by name, each with (name of the member, kind of finding) that has to be said."""
    def packed(*members, method=zipfile.ZIP_DEFLATED):
        into = io.BytesIO()
        with zipfile.ZipFile(into, "w", method) as archive:
            for name, content in members:
                archive.writestr(name, content)
        return into.getvalue()

    link = zipfile.ZipInfo("link.ipynb")
    link.external_attr = 0o120777 << 16
    locked = bytearray(packed(("locked.ipynb", paper)))
    for mark, place in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        at = locked.index(mark) + place
        locked[at:at + 2] = struct.pack("<H", 1)
    lying = bytearray(packed(("small.ipynb", b"A" * 7_000_000)))
    at = lying.index(b"PK\x01\x02") + 24
    lying[at:at + 4] = struct.pack("<I", 10)
    spoilt = bytearray(packed(("spoilt.ipynb", paper), method=zipfile.ZIP_STORED))
    spoilt[200] ^= 255
    import warnings
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        twice = packed(("twice.ipynb", b"one"), ("twice.ipynb", b"two"))
    return {
        "path.zip": (packed(("../../../../canary/a.ipynb", b"x")), "../../../../canary/a.ipynb", "name"),
        "root.zip": (packed(("/etc/gypsum.ipynb", b"x")), "/etc/gypsum.ipynb", "name"),
        "drive.zip": (packed(("C:\\x.ipynb", b"x")), "C:\\x.ipynb", "name"),
        "bomb.zip": (packed(("bomb.ipynb", bytes(7_900_000))), "bomb.ipynb", "archive"),
        "large.zip": (packed(("large.ipynb", bytes(50_000_000))), "large.ipynb", "too large"),
        "lying.zip": (bytes(lying), "small.ipynb", "archive|damaged|not a notebook"),
        "nested.zip": (packed(("inner.zip", packed(("a.ipynb", paper)))), "inner.zip", "archive"),
        "twice.zip": (twice, "twice.ipynb", "archive"),
        "locked.zip": (bytes(locked), "locked.ipynb", "archive"),
        "link.zip": (packed((link, "/etc/passwd")), "link.ipynb", "not a file"),
        "spoilt.zip": (bytes(spoilt), "spoilt.ipynb", "damaged"),
        "half.zip": (packed(("a.ipynb", paper))[:300], "", "archive"),
        "none.zip": (b"this is no archive", "", "archive"),
    }
