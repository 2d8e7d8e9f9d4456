"""A small recipe for a test: the test writes the questions and sections, and this adds everything else a recipe needs."""

from __future__ import annotations


def small_recipe(name: str, body: str) -> str:
    """Return the text of a recipe: `body` is its YAML without `needs` and `sources`; it begins at line 8."""
    return f"""
recipe: {name}
title: Made up
version: "1"
date: "2026-05-04"
about: Made up for a test.
needs: [Gloves]
{body.strip()}
sources: [{{text: Made up, mark: memory}}]
"""
