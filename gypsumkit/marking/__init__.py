"""Papers that mark themselves: tasks, papers, reading what comes back, marks, and what is said about them."""
