"""The order of recipes in a build, what a part is ready for, and which states it still lacks."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from shopmate.recipe import Recipe


def build_order(recipes: Sequence[Recipe]) -> list[Recipe]:
    """Return the recipes in build order: each after those that make the states it needs.

    Of those that could come next, the one that most others wait for in a row comes first, otherwise by name.

    Where recipes need each other in a circle, as the user's own may, the first one is placed as if it needed nothing.
    """
    makers = dict[str, list[Recipe]]()
    for recipe in recipes:
        makers.setdefault(recipe.makes, []).append(recipe)
    users = {state: [recipe for recipe in recipes if state in recipe.after] for state in makers}
    ranks, heights = dict[str, int](), dict[str, int]()
    for recipe in recipes:
        _rank(recipe, makers, ranks)
        _height(recipe, users, heights)
    return sorted(recipes, key=lambda recipe: (ranks[recipe.name], -heights[recipe.name], recipe.name))


def _rank(recipe: Recipe, makers: Mapping[str, Sequence[Recipe]], ranks: dict[str, int]) -> int:
    """Return how many recipes have to come before a recipe, counted along the longest chain."""
    if recipe.name not in ranks:
        ranks[recipe.name] = 0  # counted as the first where the way leads back to it
        before = [_rank(maker, makers, ranks) for state in recipe.after for maker in makers.get(state, ())]
        ranks[recipe.name] = 1 + max(before, default=-1)
    return ranks[recipe.name]


def _height(recipe: Recipe, users: Mapping[str, Sequence[Recipe]], heights: dict[str, int]) -> int:
    """Return how many recipes can follow a recipe, counted along the longest chain."""
    if recipe.name not in heights:
        heights[recipe.name] = 0
        after = [_height(user, users, heights) for user in users.get(recipe.makes, ())]
        heights[recipe.name] = 1 + max(after, default=-1)
    return heights[recipe.name]


def missing(recipe: Recipe, states: Collection[str]) -> list[str]:
    """Return the states that a recipe needs and the part does not have."""
    return [state for state in recipe.after if state not in states]


def next_for(recipes: Sequence[Recipe], states: Collection[str]) -> list[Recipe]:
    """Return the recipes that a part with these states is ready for and has not been through, in build order.

    Recipes that need a state come before those that can be started at any time.
    """
    ready = [one for one in build_order(recipes) if one.makes and one.makes not in states and not missing(one, states)]
    return sorted(ready, key=lambda one: not one.after)
