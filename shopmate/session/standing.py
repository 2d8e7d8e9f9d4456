"""Where recipes stand in the build of a part: in which order they come, which are done, and what a part lacks for one."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from shopmate.recipe import Recipe


def build_order(recipes: Sequence[Recipe]) -> list[Recipe]:
    """Return the recipes in the order of the build: each after all that make a state it comes after, then by name.

    Recipes that wait for each other in a circle, as the user's own may, stand as if the first of them did not wait.
    """
    makers = dict[str, list[Recipe]]()
    for recipe in recipes:
        makers.setdefault(recipe.makes, []).append(recipe)
    ranks = dict[str, int]()
    for recipe in recipes:
        _rank(recipe, makers, ranks)
    return sorted(recipes, key=lambda recipe: (ranks[recipe.name], recipe.name))


def _rank(recipe: Recipe, makers: Mapping[str, Sequence[Recipe]], ranks: dict[str, int]) -> int:
    """Return after how many others a recipe comes, one after another."""
    if recipe.name not in ranks:
        ranks[recipe.name] = 0  # counted as the first where the way leads back to it
        before = [_rank(maker, makers, ranks) for state in recipe.after for maker in makers.get(state, ())]
        ranks[recipe.name] = 1 + max(before, default=-1)
    return ranks[recipe.name]


def missing(recipe: Recipe, states: Collection[str]) -> list[str]:
    """Return the states that a part should have before a recipe and has not."""
    return [state for state in recipe.after if state not in states]


def next_for(recipes: Sequence[Recipe], states: Collection[str]) -> list[Recipe]:
    """Return the recipes that a part in these states is ready for and that did not make theirs yet, in the order of the build.

    Those that come after something are ahead of those that can be begun at any time.
    """
    ready = [one for one in build_order(recipes) if one.makes and one.makes not in states and not missing(one, states)]
    return sorted(ready, key=lambda one: not one.after)
