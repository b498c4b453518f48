"""Commands that need the installed environment, one module each."""
