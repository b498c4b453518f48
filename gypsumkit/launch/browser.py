"""Find the browser that the browser tests drive."""

import os
import shutil

_NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "msedge")
_PLACES = ("/Applications/Chromium.app/Contents/MacOS/Chromium",
           "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
           r"C:\Program Files\Google\Chrome\Application\chrome.exe",
           r"C:\Program Files (x86)\Microsoft\Edge\Application\msedge.exe")


def find_chromium():
    """Return the path of a Chromium or one of its kin, or None where there is none.

    Returns
    -------
    str or None
        What GYPSUMKIT_CHROMIUM names where that is a file, else the first found in the usual places.
    """
    named = os.environ.get("GYPSUMKIT_CHROMIUM")
    if named:
        return named if os.path.isfile(named) else None
    found = [path for path in map(shutil.which, _NAMES) if path] + [path for path in _PLACES if os.path.isfile(path)]
    return found[0] if found else None
