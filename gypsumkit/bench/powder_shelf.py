"""Where the reader's own powders stand: one open file in the work folder, and beside the catalogue's powders while the course runs."""

import json

from gypsumkit import remembering
from gypsumkit.bench.own_powder import VALUES, Given, OwnPowder, made
from gypsumkit.checks import checked_number
from gypsumkit.kept import KeptFiles
from gypsumkit.powders import POWDERS, named
from gypsumkit.problems import Problem
from gypsumkit.sources import STANDINGS

FILE = "own-powders.json"
MOST_POWDERS = 20
_UNTOLD = []                         # what a lesson found at its start, until a panel tells it


class Shelf(KeptFiles):
    """The reader's own powders.

    Parameters
    ----------
    folder : path, optional
        The work folder; the course's own when not given.
    """

    cannot_read = "{name} cannot be read ({why}): your own powders are not shown; the file is untouched."
    cannot_save = ("{name} could not be saved ({why}): the file as last saved is untouched; make room or allow writing there, "
                   "then save again.")
    cannot_set_aside = "{name} is damaged and cannot be set aside ({why}): move it away by hand."

    def load(self):
        """Put the powders of the file beside those of the catalogue, and take away those that are no longer in it.

        Returns
        -------
        dict of str to OwnPowder

        Raises
        ------
        Problem
            When the file is there and cannot be read.
        """
        owned = self._read()
        _put_out(owned)
        return owned

    def save(self, own, replace=False):
        """Keep a powder and put it out.

        Parameters
        ----------
        own : OwnPowder
            The powder.
        replace : bool
            Whether one of the same name gives way.

        Raises
        ------
        Problem
            When one of that name is there already, it cannot be made, or the file cannot be written; then nothing has changed.
        """
        made(own)
        with self._lock.held(FILE):
            owned = self._read()
            taken = next((name for name in owned if name.lower() == own.name.lower()), None)
            if taken and not replace:
                raise Problem(f"There is already '{taken}'; tick “replace it” to overwrite it, or write another lot.")
            if not taken and len(owned) >= MOST_POWDERS:
                raise Problem(f"{MOST_POWDERS} own powders are the most that are kept; remove one first.")
            owned.pop(taken, None)
            owned[own.name] = own
            self._write(FILE, _as_bytes(owned))
        _put_out(owned)

    def remove(self, name):
        """Take a powder away, from the file too.

        Parameters
        ----------
        name : str
            Its name.

        Raises
        ------
        Problem
            When there is none, or the file cannot be written; then nothing has changed.
        """
        with self._lock.held(FILE):
            owned = self._read()
            if not owned:
                raise Problem("There is no own powder to remove.")
            del owned[named(name, owned, "no own powder")]
            self._write(FILE, _as_bytes(owned))
        _put_out(owned)

    # The file --------------------------------------------------------------------------------

    def _read(self):
        raw = self._bytes(FILE, absent=(FileNotFoundError, NotADirectoryError))
        if raw is None:
            return {}
        owned, whole = _understood(raw)
        if not whole:
            self._set_aside(raw, owned)
        return owned

    def _set_aside(self, raw, owned):
        """Move a damaged file to a dated name and put back what could be read of it."""
        with self._lock.held(FILE):
            aside = self._put_aside(FILE, raw)
            if aside is None:                          # another lesson has just mended it
                return
            if owned:
                self._write(FILE, _as_bytes(owned))
            kept = f"{len(owned)} of its powders could be read and are kept. " if owned else ""
            self.messages.append(f"{FILE} was damaged and is set aside as {aside.name}. {kept}Nothing is lost: what could not be read stands there.")


def load_own_powders(folder=None):
    """Put the reader's own powders beside those of the catalogue; a trouble with the file never stops a lesson or a command.

    Parameters
    ----------
    folder : path, optional
        The work folder.

    Returns
    -------
    list of str
        What the reader should be told; it is also kept for `take_untold`.
    """
    try:
        shelf = Shelf(folder)
        shelf.load()
        said = shelf.take_messages()
    except Problem as problem:
        said = [str(problem)]
    _UNTOLD.extend(one for one in said if one not in _UNTOLD)
    return said


def take_untold():
    """Return what was found when powders were loaded, once."""
    said = list(_UNTOLD)
    _UNTOLD.clear()
    return said


def own_names():
    """Return the names of the own powders that are out."""
    return tuple(name for name, powder in POWDERS.items() if powder.parent)


def _put_out(owned):
    """Make the own powders among `POWDERS` exactly these; what was remembered is forgotten when something changed."""
    wanted = {name: made(own) for name, own in owned.items()}
    if wanted == {name: POWDERS[name] for name in own_names()}:
        return
    for name in own_names():
        del POWDERS[name]
    POWDERS.update(wanted)
    remembering.forget()


def _as_bytes(owned):
    content = {"format": 1, "powders": [_as_entry(own) for own in owned.values()]}
    return (json.dumps(content, ensure_ascii=False, indent=1, allow_nan=False) + "\n").encode("utf-8")


def _as_entry(own):
    def values(given):
        return {name: one._asdict() for name, one in given.items()}
    return {"parent": own.parent, "lot": own.lot, "opened": own.opened, "sheet": values(own.sheet), "bench": values(own.bench)}


def _understood(raw):
    """Return the powders that could be read, and whether that was all."""
    try:
        entries = json.loads(raw.decode("utf-8"))["powders"]
        if not isinstance(entries, list):
            raise TypeError
    except (ValueError, RecursionError, TypeError, KeyError):
        return {}, False
    owned = {}
    for entry in entries[:MOST_POWDERS]:
        try:
            own = _from_entry(entry)
            made(own)
            if own.name.lower() not in map(str.lower, owned):
                owned[own.name] = own
        except (Problem, ValueError, TypeError, KeyError, AttributeError, OverflowError):
            pass
    return owned, len(owned) == len(entries)


def _from_entry(entry):
    def values(part):
        return {name: _given(name, one) for name, one in entry[part].items()}
    return OwnPowder(entry["parent"], entry["lot"], values("sheet"), values("bench"), entry["opened"])


def _given(name, one):
    kind = VALUES[name]
    value = checked_number(one["value"], kind.words, kind.unit, kind.least)
    low, high = (None if one[end] is None else checked_number(one[end], kind.words, kind.unit, 0.0) for end in ("low", "high"))
    if (low is None) != (high is None) or (low is not None and not low <= value <= high) or value > kind.most:
        raise Problem(f"The {kind.words} of an own powder is damaged.")
    if one["standing"] not in STANDINGS:
        raise Problem(f"'{one['standing']}' is not a standing.")
    return Given(value, low, high, one["standing"], str(one["locator"])[:200])
