"""From a fresh clone to a running lesson, with the standard library only."""
