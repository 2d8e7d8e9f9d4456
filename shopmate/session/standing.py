"""The order of recipes in a build, what a part is ready for, and which states it still lacks."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from shopmate.recipe import Recipe


def build_order(recipes: Sequence[Recipe]) -> list[Recipe]:
    """Return the recipes in build order: each after those that make the states it needs.

    Of those that could come next, the one that most others wait for in a row comes first, otherwise by name.

    Where recipes need each other in a circle, as the user's own may, the first one is placed as if it needed nothing.
    """
    before = {one.name: [other for other in recipes if other.makes in one.after] for one in recipes}
    behind = {one.name: [other for other in recipes if one.makes in other.after] for one in recipes}
    ranks, heights = dict[str, int](), dict[str, int]()
    for recipe in recipes:
        _longest(recipe, before, ranks)
        _longest(recipe, behind, heights)
    return sorted(recipes, key=lambda recipe: (ranks[recipe.name], -heights[recipe.name], recipe.name))


def _longest(recipe: Recipe, beside: Mapping[str, Sequence[Recipe]], found: dict[str, int]) -> int:
    """Return how many recipes follow one another from a recipe on, along the longest chain; each is `found` once."""
    if recipe.name not in found:
        found[recipe.name] = 0  # counted as the end where the way leads back to it
        found[recipe.name] = 1 + max((_longest(other, beside, found) for other in beside[recipe.name]), default=-1)
    return found[recipe.name]


def missing(recipe: Recipe, states: Collection[str]) -> list[str]:
    """Return the states that a recipe needs and the part does not have."""
    return [state for state in recipe.after if state not in states]


def next_for(recipes: Sequence[Recipe], states: Collection[str]) -> list[Recipe]:
    """Return those of the recipes that a part with these states is ready for and has not been through, in their order.

    Recipes that need a state come before those that can be started at any time.
    """
    ready = [one for one in recipes if one.makes and one.makes not in states and not missing(one, states)]
    return sorted(ready, key=lambda one: not one.after)
