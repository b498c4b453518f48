"""The checks of the course; they mirror the rooms of the library."""
