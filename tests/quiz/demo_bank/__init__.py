"""A small bank of its own for the tests of the question machinery."""
