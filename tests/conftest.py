"""Every test works in folders of its own: nothing is read from or written to the home folder of whoever runs it."""

import atexit
import os
import shutil
import tempfile

_FOLDER = tempfile.mkdtemp(prefix="gypsumkit-tests-")
atexit.register(shutil.rmtree, _FOLDER, ignore_errors=True)

for _name in ("GYPSUMKIT_WORK", "JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR", "IPYTHONDIR",
              "MPLCONFIGDIR", "XDG_CACHE_HOME"):
    os.environ[_name] = os.path.join(_FOLDER, _name.lower())
    os.mkdir(os.environ[_name])

os.environ["GYPSUMKIT_INSIDE"] = "yes"  # the Python that runs the tests has what the commands need
