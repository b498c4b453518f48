"""The course in front of a class and in a pocket: what is projected, and what is taken home."""
