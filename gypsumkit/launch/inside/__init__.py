"""Small programs that the launcher starts in the environment's own Python, because they need its packages."""
