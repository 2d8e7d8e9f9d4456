"""The form of recipes and operations: every key with its purpose. The reader, the documentation and the schema follow it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, get_args

from shopmate.models.due import CLOCK_KINDS
from shopmate.recipe.keys import DASHED, KEYED, NAME, WHOLE, By, Either, Form, Key, List, Nested, OneOf, Pairs, Text, Word, needs
from shopmate.recipe.model import SIGNALS, Mode, Signal, Stands
from shopmate.recipe.readings import READING_NAMES
from shopmate.recipe.shelf import FIGURES

ActWord = Literal["do", "ask", "work out", "gate", "start", "wait"]
"""The key of a step that says what kind it is."""

ACT_WORDS: tuple[ActWord, ...] = get_args(ActWord)

HEADLINE = 26
"""Characters of a headline: two lines of block letters on an 80-column screen."""
DETAIL = 60
"""Characters of a detail line that fit in one row."""
WARNED = 120
"""Characters of a caution, or of what to do on a NO GO."""
STATE = 30
"""Characters of a state of a part: it is shown beside the name of the part."""
MODES: tuple[Mode, ...] = get_args(Mode)
STANDS: tuple[Stands, ...] = get_args(Stands)
MARKS = ("read", "computed", "common practice", "memory")
"""How we know what a source says."""

_KEYS = Either((Text(), List(Text())))
_QUANTITY = Text()
"""A number with its unit, or a reference to one."""

# fmt: off
NEAR = Form("near", (
    needs("value", _QUANTITY, "What the answer is expected to be."),
    needs("within", Text(), "Tolerance, in %: an answer further off is questioned."),
))
REPEAT = Form("repeat", (
    needs("each", Text(12), "What one turn is, such as pot or coat."),
    needs("times", Text(), "How many turns: a number, or the name of a value."),
    Key("sections", WHOLE, "How many sections, from this one on, make one turn; without it, one."),
))
WHEN_CLOCK = Form("when", (
    needs("clock", Word(), "A clock started earlier."),
    needs("is", OneOf(STANDS), "Its state: before its time, past it, or not started or already ended."),
))
_ONE_CONDITION = (Nested((WHEN_CLOCK,)), Pairs(_KEYS, 1, 1, rf"(?!clock$){NAME}(\.{NAME})?"))
_CONDITION = Either((*_ONE_CONDITION, List(Either(_ONE_CONDITION), 1)))
SOURCE = Form("a source", (
    needs("text", Text(), "Where it comes from, and what it says."),
    needs("mark", OneOf(MARKS), "How we know it."),
))

COMMON = (
    Key("id", Word(DASHED), "Its name, if not the one made from its headline."),
    Key("detail", List(Text(DETAIL)), "Lines under the headline, preferably no more than two."),
    Key("figures", Pairs(Text()), "Label: value, shown large; preferably no more than two, with labels of up to 16 characters."),
    Key("when", _CONDITION, "It applies only with this answer to a choice, this verdict of a calculator ({name.output: "
        "verdict}), or this state of a clock; in a list, all must hold."),
    Key("ends", Word(), "The clock that this step ends."),
)
"""What any step may have."""
_WITH = Pairs(Text())
_INTO = Word()
CHOICES = Pairs(Text(40), 2, 9, KEYED)
_REASONS = Key("reasons", List(Text(50), 1), "Reasons offered for overriding the hold point, 2 to 5; else the usual ones.")

_QUIET = Key("quiet", OneOf(("yes",)), "Its calculator's cautions do not stop the run: the recipe gives them where they count.")


def _step(word: ActWord, headline: str, *keys: Key, by: Mapping[str, By] | None = None) -> Form:
    """Return the form of one kind of step."""
    told = f"{headline} Preferably up to {HEADLINE} characters, in two lines of 13."
    return Form(f"a step of the kind '{word}'", (needs(word, Text(), told), *keys, *COMMON), by or {})


STEPS: Mapping[ActWord, Form] = {
    "do": _step("do", "What to do.",
        Key("can_wait", OneOf(("no",)), "The step is never left for later."),
        Key("timer", _QUANTITY, "How long it takes, counted from when the step comes up."),
    ),
    "ask": _step("ask", "What is asked.",
        needs("into", _INTO, "The name of the answer, for references."),
        Key("unit", Text(may_be_empty=True), "The answer is a quantity, asked in this unit; '' for a number."),
        Key("choices", CHOICES, "The answer is one of these, as key: what is shown."),
        Key("count", List(WHOLE, 2, 2), "The answer is a whole number, from the first to the second."),
        Key("shelf", OneOf(tuple(FIGURES)), "The answer is a material of this kind on the shelf."),
        Key("low", _QUANTITY, "The lowest answer accepted."),
        Key("high", _QUANTITY, "The highest answer accepted."),
        Key("usual", List(_QUANTITY, 2, 2), "An answer outside these two is questioned."),
        Key("near", Nested((NEAR,)), "What the answer should be near; one further off is questioned."),
        Key("default", Text(), "The answer offered: as you would type it, or a figure such as {bar.width}."),
        Key("reading", OneOf(READING_NAMES), "The answer is this reading; while fresh, it is offered wherever asked again."),
        Key("of", Text(), "What the answer belongs to: part, shop, or a material as {resin}; offered again for the same one."),
        Key("logs", OneOf(("temperature",)), "The answer, in °C, is also a shop temperature, by which clocks run."),
        Key("pace_of", Word(), "The answer offered, in g or min: the median of the user's own pots under this DO BEFORE "
            "clock. It is updated when the run finishes such a pot: a step with 'ends: CLOCK', a mass asked while it ran."),
        Key("adds_to", Word(), "In a repeated section: the name of the sum of the answers, the last of each turn, "
            "known from the first answer on."),
        by={
            "unit": By((), ("low", "high", "usual", "near", "logs", "pace_of", "adds_to", "reading")),
            "choices": By(), "count": By(), "shelf": By(),
        },
    ),
    "work out": _step("work out", "What is worked out.",
        needs("calculator", Text(), "The calculator that does it."),
        needs("with", _WITH, "Its inputs, by field. A reference not known yet leaves the field at its default."),
        needs("into", _INTO, "The name of its outputs, for references such as {name.output}."),
        Key("show", List(Text()), "The outputs shown large, preferably no more than two."),
        _QUIET,
    ),
    "gate": _step("gate", "What is checked before the run continues.",
        needs("if_no", Text(WARNED), "What to do on a NO GO."),
        Key("calculator", Text(), "The calculator that decides."),
        Key("with", _WITH, "The inputs of the calculator, by field."),
        Key("into", _INTO, "The name of its outputs, for references."),
        Key("show", List(Text()), "The outputs shown large."),
        Key("value", Text(), "The value to compare with limits, as {name}."),
        Key("low", _QUANTITY, "The lowest value that is GO."),
        Key("high", _QUANTITY, "The highest value that is GO."),
        Key("choices", CHOICES, "What the builder sees decides, as key: what is shown."),
        Key("go", Either((Text(), List(Text()), Pairs(_KEYS, 1))), "What is GO: the keys of choices, or output: values."),
        Key("more", Pairs(_KEYS, 1), "What is GO too in a turn more than planned, which the builder chose: output: values."),
        _REASONS,
        _QUIET,
        by={
            "calculator": By(("with", "into", "go"), ("show", "more")),
            "value": By((), ("low", "high"), ("low", "high")),
            "choices": By(("go",)),
        },
    ),
    "start": _step("start", "What starts.",
        needs("clock", Word(), "The name of the clock."),
        needs("title", Text(18), "What the clock is called on the screen."),
        needs("kind", OneOf(CLOCK_KINDS), "Whether something must be done before it ends, or not before it ends."),
        needs("time", _QUANTITY, "How long it runs."),
        needs("note", Text(DETAIL), "What the time is, and where it comes from."),
        needs("action", Text(40), "What to do when it is due."),
        needs("if_late", Text(WARNED), "What to do when it is late."),
        needs("time_to_act", _QUANTITY, "How long before its end it warns."),
        needs("consequence", Text(DETAIL), "What being late costs."),
        Key("ages_at", _QUANTITY, "The temperature of the data-sheet time; the clock adjusts to the shop's temperature."),
        Key("at_once", OneOf(("yes",)), "It starts with the step before, without a key."),
        Key("goes_on", OneOf(("yes",)), "It counts from when the clock of that name began that runs now, and takes its place."),
        Key("spilled", Text(WARNED), "In a repeated section, the clock is the life of a pot: a key says that it was spilled, "
            "this WARNING is read, and another is planned."),
    ),
    "wait": _step("wait", "What is waited for.",
        needs("clock", Word(), "A NOT BEFORE clock started earlier."),
        _REASONS,
    ),
}

ASKED = STEPS["ask"].with_keys(needs("default", Text(), "The answer offered, and used for the printed sheet.",
    "add 'default: ...', so that a sheet can be worked out"))
"""What a recipe asks at its start."""

CAUTIONS: Mapping[Signal, Form] = {
    signal: Form(f"a {signal}", (
        needs(signal, Text(WARNED), "The hazard and what it does, before the step it concerns. What to do about it is a step."),
        Key("reason", Text(), "What makes death or serious injury certain.", signal == "DANGER",
            "add 'reason: why death or serious injury will result', or write WARNING"),
    ))
    for signal in SIGNALS
}
_ANY_STEP = Nested((*STEPS.values(), *CAUTIONS.values()))

SECTION = Form("a section", (
    needs("section", Text(30), "What it is called."),
    needs("mode", OneOf(MODES), "Followed step by step, or done from skill and then confirmed. A section that starts a DO BEFORE "
          "clock is read-do."),
    Key("repeat", Nested((REPEAT,)), "It is done several times; {turn} in its texts is the number of the turn, from 1. "
        "If the plan is made again within these turns, its count replaces turns added or dropped by hand."),
    Key("until", Text(DETAIL), "When to stop repeating it."),
    Key("takes", _QUANTITY, "Hands-on time per turn: a time, or a figure such as {plan.minutes}."),
    needs("steps", List(_ANY_STEP), "Its steps, preferably 5 to 9, each after its cautions."),
), both=("repeat", "until"))
_USE = Form("a use of an operation", (
    needs("use", Word(DASHED), "The operation whose sections come here."),
    Key("with", Pairs(Text()), "Its inputs."),
    Key("as", Word(), "The prefix of the names it gives; without it, the operation's name."),
    Key("between", List(_ANY_STEP, 1), "Steps to insert where the operation has its place for them."),
    Key("when", _CONDITION, "The condition for all its steps."),
))
USE = _USE.with_keys(
    Key("before", List(Nested((SECTION, _USE)), 1), "Sections, or uses of operations, to insert where the operation has its "
        "place for them."),
    Key("after", List(Nested((SECTION, _USE)), 1), "The same after its work, as the last of a repeated turn."),
)
CONSUMED = Form("a use", (
    needs("material", Text(), "A material that was chosen, as {name}, or a text. Amounts of the same material are added up."),
    needs("amount", Text(), "A figure of the recipe as {name}, or a quantity; a bare number counts pieces."),
    Key("times", Text(), "How many times that amount: a whole number, or a count as {name}."),
    Key("waste", Text(), "The share that is wasted, in %."),
    Key("when", Pairs(_KEYS, 1, 1), "It is used only with this answer to a choice."),
    Key("weighed", _KEYS, "What is weighed of it: the sums (adds_to), as {name}. What a run used goes by them, what it needs by "
        "the amount."),
))
ACCEPTANCE = Form("an acceptance", (
    needs("check", Text(), "What to check before the work is accepted."),
    needs("by", Text(), "How to check it: the detail of its step."),
))
RECIPE = Form("a recipe", (
    needs("recipe", Word(DASHED), "Its name, the same as its file."),
    needs("title", Text(40), "What it is called on the screen."),
    needs("version", Text(12), "Its version, in any form you like."),
    needs("date", Word(r"\d{4}-\d{2}-\d{2}", "write it as YYYY-MM-DD, in quotes"), "When it was last changed."),
    needs("about", Text(), "What it covers and what it does not."),
    needs("needs", List(Text(), 1), "What must be ready before it starts."),
    needs("asks", List(Nested((ASKED,)), 1),
        "What it asks at the start, each with its default, preferably no more than nine."),
    needs("sections", List(Nested((SECTION, USE)), 1), "Its sections, and the operations it uses."),
    Key("after", List(Text(STATE), 1), "The states the part should be in before; a missing one is pointed out, not forbidden."),
    Key("makes", Text(STATE), "The state it leaves a part in, such as sheathed."),
    Key("uses", List(Nested((CONSUMED,)), 1), "What it uses: each material with its amount, shown before the start."),
    Key("accept", List(Nested((ACCEPTANCE,)), 1), "The checks before the work is accepted: its last section; none can wait."),
    needs("sources", List(Nested((SOURCE,)), 1), "Where its figures and methods come from."),
))

ONLY = Key("only", Pairs(_KEYS, 1), "It applies only if the operation is given one of these.")
"""Of a step or section of an operation."""
PLACE = Form("a place in an operation", (
    needs("between", Text(), "The steps given by the use go here; write 'here'."),
))
PLACE_BEFORE = Form("a place in an operation", (
    needs("before", Text(), "The sections given by the use go here; write 'here'."),
))
PLACE_AFTER = Form("a place in an operation", (
    needs("after", Text(), "The sections given by the use to come after the work go here; write 'here'."),
))
_OWN_STEP = Nested((*(form.with_keys(ONLY) for form in (*STEPS.values(), *CAUTIONS.values())), PLACE))
OPERATION = Form("an operation", (
    needs("operation", Word(DASHED), "Its name, the same as its file."),
    needs("about", Text(), "What it does and what it does not."),
    Key("takes", Pairs(Text()), "Its inputs, as name: the default, or 'needed'. {resin.pot_life} in its texts becomes the "
        "reference it was given."),
    Key("gives", Pairs(Word(), key=NAME), "What the recipe may refer to afterwards, such as {shop.air}, as name "
        "outside: the name of a step's into, adds_to or clock."),
    Key("uses", List(Nested((CONSUMED.with_keys(ONLY),)), 1), "What it uses, added to what the recipe uses."),
    needs("sections", List(Nested((
        SECTION.with_keys(Key("steps", List(_OWN_STEP), "Its steps.", is_needed=True), ONLY), USE.with_keys(ONLY),
        PLACE_BEFORE, PLACE_AFTER)), 1),
        "Its sections, and the operations it uses."),
))
# fmt: on
