"""The question bank, one module a lesson."""
