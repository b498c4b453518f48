"""What a gypsum mix does, one idea a file: plain numpy, no files, no pictures."""
