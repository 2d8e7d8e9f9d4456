"""A calculator with every kind of field, for the forms that ask for them."""

import sys
from types import SimpleNamespace

from shopmate import calc
from shopmate.calculator import Answer, Calculator, Choice, Count, Either, Field, Measure, Output, RatioKind, Source
from shopmate.errors import FieldProblem, InputError
from shopmate.units import Quantity

WOODS = ("birch", "spruce", "pine", "larch", "fir", "oak", "ash", "beech", "maple", "elm", "lime")


def compute(length, temperature, wood, stiffness, ratio, coats, face):
    if stiffness == "hard" and coats > 5:
        raise InputError(FieldProblem("coats", "too many on a hard one", "enter 5 or fewer"))
    return Answer(
        {"reach": Quantity(length.value_in("mm") * coats, "mm"), "verdict": "go" if temperature.value_in("°C") > 0 else "no go"},
        working=(f"reach = length x coats = {length.value_in('mm'):g} x {coats}", f"ratio {ratio}, face {face}"),
        cautions=("keep clear of the edge",),
    )


SAMPLE = Calculator(
    name="sample",
    title="A sample of every kind of field",
    inputs=(
        Field("length", "Length", Measure("mm", above=0, high=5000, soft_high=3000), "Along the grain.", required=True),
        Field("temperature", "Temperature", Measure("°C", low=-40, high=60), required=True),
        Field("wood", "Wood", Choice(WOODS), default="spruce"),
        Field("stiffness", "Stiffness", Either(Choice(("soft", "hard")), Measure("GPa", above=0)), default="soft"),
        Field("ratio", "Mix ratio", RatioKind(), default="2:1 by volume"),
        Field("coats", "Coats", Count(1, 9), default="1"),
        Field("face", "Face", Choice(("inner", "outer"))),
    ),
    outputs=(Output("reach", "Reach", "mm", 1), Output("verdict", "Verdict")),
    source=(Source("A made-up rule", "common practice"),),
    valid="only in tests",
    examples=(),
    compute=compute,
)


def offer_sample(monkeypatch):
    """Put the calculator among those of the program."""
    names = calc.names()
    monkeypatch.setitem(sys.modules, "shopmate.calc.sample", SimpleNamespace(CALCULATOR=SAMPLE))
    monkeypatch.setattr(calc, "names", lambda: (*names, "sample"))
