"""Checks that start the real program in a pseudo-terminal and feed it the bytes a terminal sends."""
