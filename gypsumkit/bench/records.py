"""Measurements of many mixes as columns, and what is worked out from them."""

import numpy as np

from gypsumkit.bench.columns import COLUMNS, NUMBERS, TEXTS
from gypsumkit.problems import Problem, nearest


class Records:
    """Rows of measurements, kept as columns.

    Parameters
    ----------
    columns : dict of str to sequence
        By the names of `COLUMNS`, all equally long; a column left out is empty. Numbers are in the unit of their column,
        None or not a number where nothing was measured; an empty text where nothing was written.

    Raises
    ------
    Problem
        When a column is unknown or they are not equally long.
    """

    def __init__(self, columns=None):
        columns = dict(columns or {})
        for name in columns:
            if name not in COLUMNS:
                guess = nearest(name, COLUMNS)
                raise Problem(f"There is no column called '{name}'" + (f"; did you mean '{guess}'?" if guess else f"; there are {', '.join(COLUMNS)}."))
        lengths = {len(column) for column in columns.values()}
        if len(lengths) > 1:
            raise Problem(f"The columns are not equally long: there are {', '.join(map(str, sorted(lengths)))} rows.")
        self._length = lengths.pop() if lengths else 0
        self._columns = {name: np.asarray(columns[name], dtype=float) for name in NUMBERS if name in columns}
        self._columns.update({name: np.asarray(columns[name], dtype=object) for name in TEXTS if name in columns})

    def __len__(self):
        return self._length

    def __getitem__(self, name):
        """Return a column as an array: numbers with NaN, texts with "" where there is nothing."""
        if name in self._columns:
            return self._columns[name]
        if name not in COLUMNS:
            raise KeyError(name)
        return np.full(self._length, np.nan) if name in NUMBERS else np.full(self._length, "", dtype=object)

    def where(self, chosen):
        """Return some of the rows.

        Parameters
        ----------
        chosen : array
            True for each row that is kept, or the places of the rows.

        Returns
        -------
        Records
        """
        return Records({name: column[np.asarray(chosen)] for name, column in self._columns.items()})

    def row(self, place):
        """Return one row as a plain dictionary without what is empty."""
        found = {name: column[place] for name, column in self._columns.items()}
        return {name: value for name, value in found.items() if value != "" and value == value}

    @classmethod
    def of_rows(cls, rows):
        """Return records made of plain dictionaries.

        Parameters
        ----------
        rows : sequence of dict
            By the names of `COLUMNS`; what is left out is empty.

        Returns
        -------
        Records
        """
        rows = list(rows)
        names = [name for name in COLUMNS if any(name in row for row in rows)] or ["note"]
        unknown = {name for row in rows for name in row} - set(COLUMNS)
        if unknown:
            raise Problem(f"There is no column called '{sorted(unknown)[0]}'; there are {', '.join(COLUMNS)}.")
        return cls({name: [row.get(name, np.nan if name in NUMBERS else "") for row in rows] for name in names})

    @classmethod
    def together(cls, parts):
        """Return the rows of several records one after the other.

        Parameters
        ----------
        parts : sequence of Records

        Returns
        -------
        Records
        """
        parts = list(parts)
        names = [name for name in COLUMNS if any(name in part._columns for part in parts)]
        return cls({name: np.concatenate([part[name] for part in parts]) for name in names})

    # What is worked out ------------------------------------------------------------------------

    @property
    def water_powder_ratio(self):
        """mL water per g powder."""
        return self["water_ml"] / self["powder_g"]

    @property
    def spread_mm(self):
        """Mean of the spread in two directions, mm; of the one that was measured where there is only one."""
        one, two = self["spread_one_mm"], self["spread_two_mm"]
        return np.where(np.isnan(one), two, np.where(np.isnan(two), one, (one + two) / 2))

    @property
    def strength_mpa(self):
        """Compressive strength, MPa: load over the area of the cylinder."""
        return self["crush_load_n"] / (np.pi / 4 * self["cylinder_diameter_mm"] ** 2)

    @property
    def expansion_percent(self):
        """Linear setting expansion at 2 h, %."""
        return self["length_change_um"] / (10.0 * self["gauge_length_mm"])
