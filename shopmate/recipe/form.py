"""The form of recipes and operations: every key with what it is for. The reader, its documentation and the schema go by it."""

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
"""Characters of a detail line that stand in one row."""
WARNED = 120
"""Characters of a caution, or of what is said instead of going on."""
STATE = 30
"""Characters of a state of a part: it stands beside the name of the part."""
MODES: tuple[Mode, ...] = get_args(Mode)
STANDS: tuple[Stands, ...] = get_args(Stands)
MARKS = ("read", "computed", "common practice", "memory")
"""How a source was come by."""

_KEYS = Either((Text(), List(Text())))
_QUANTITY = Text()
"""A number with its unit, or a reference to one."""

# fmt: off
NEAR = Form("near", (
    needs("value", _QUANTITY, "What the answer is expected to be."),
    needs("within", Text(), "How far off it may be before it is asked about, in %."),
))
REPEAT = Form("repeat", (
    needs("each", Text(12), "What each turn is done for, such as pot or coat."),
    needs("times", Text(), "How many turns: a number, or the name of a value."),
    Key("sections", WHOLE, "How many sections, from this one on, make one turn together; without it one."),
))
WHEN_CLOCK = Form("when", (
    needs("clock", Word(), "A clock started before."),
    needs("is", OneOf(STANDS), "How it stands: before its time, past it, or not started or ended."),
))
_ONE_CONDITION = (Nested((WHEN_CLOCK,)), Pairs(_KEYS, 1, 1, f"(?!clock$){NAME}"))
_CONDITION = Either((*_ONE_CONDITION, List(Either(_ONE_CONDITION), 1)))
SOURCE = Form("a source", (
    needs("text", Text(), "Where it is from, and what it says."),
    needs("mark", OneOf(MARKS), "How it was come by."),
))

COMMON = (
    Key("id", Word(DASHED), "Its name, where another than that made of its headline is wanted."),
    Key("detail", List(Text(DETAIL)), "Lines under the headline, best no more than two."),
    Key("figures", Pairs(Text()), "Label: value, shown large; best no more than two, labels of up to 16 characters."),
    Key("when", _CONDITION, "It is there only with this answer to a choice, or with a clock that stands so; of a list with all."),
    Key("ends", Word(), "The clock that doing this step ends."),
)
"""What any step may have."""
_WITH = Pairs(Text())
_INTO = Word()
CHOICES = Pairs(Text(40), 2, 9, KEYED)
_REASONS = Key("reasons", List(Text(50), 1), "For what reasons the hold point may be passed, 2 to 5; without it the usual ones.")

_QUIET = Key("quiet", OneOf(("yes",)), "What its calculator warns of stops nobody, since the recipe says it where it counts.")


def _step(word: ActWord, headline: str, *keys: Key, by: Mapping[str, By] | None = None) -> Form:
    """Return the form of one kind of step."""
    told = f"{headline} Best up to {HEADLINE} characters, in two lines of 13."
    return Form(f"a step of the kind '{word}'", (needs(word, Text(), told), *keys, *COMMON), by or {})


STEPS: Mapping[ActWord, Form] = {
    "do": _step("do", "What to do.",
        Key("can_wait", OneOf(("no",)), "The step is never left for later."),
        Key("timer", _QUANTITY, "How long it takes: the time is counted from when the step is in hand."),
    ),
    "ask": _step("ask", "What to answer.",
        needs("into", _INTO, "The name that the answer is referred to by."),
        Key("unit", Text(may_be_empty=True), "The answer is a quantity, asked in this unit; '' for a number."),
        Key("choices", CHOICES, "The answer is one of these: key: what is shown."),
        Key("count", List(WHOLE, 2, 2), "The answer is a whole number from the first to the second."),
        Key("shelf", OneOf(tuple(FIGURES)), "The answer is a material of this kind on the shelf."),
        Key("low", _QUANTITY, "The least answer taken."),
        Key("high", _QUANTITY, "The greatest answer taken."),
        Key("usual", List(_QUANTITY, 2, 2), "Outside of these two the answer is asked about."),
        Key("near", Nested((NEAR,)), "What the answer is expected to be; further off it is asked about."),
        Key("default", Text(), "The answer offered: as it would be typed, or a figure as {bar.width}."),
        Key("reading", OneOf(READING_NAMES), "The answer is this reading: while fresh it is offered wherever it is asked again."),
        Key("of", Text(), "What the answer is of: part, shop, or a material asked for as {resin}; it is offered there again."),
        Key("logs", OneOf(("temperature",)), "The answer, in °C, is a reading of the shop temperature too, by which clocks go."),
        Key("pace_of", Word(), "The answer, in g or min, is offered from the user's own middle pot under this DO BEFORE clock, "
            "and renewed as soon as the run has finished such a pot: a step with 'ends: CLOCK', a mass asked while it ran."),
        Key("adds_to", Word(), "In a repeated section: the sum of the answers over the turns, one a turn, "
            "known from the first answer on."),
        by={
            "unit": By((), ("low", "high", "usual", "near", "logs", "pace_of", "adds_to", "reading")),
            "choices": By(), "count": By(), "shelf": By(),
        },
    ),
    "work out": _step("work out", "What is worked out.",
        needs("calculator", Text(), "The calculator that does it."),
        needs("with", _WITH, "What it is given, by field. A reference not yet known is left to the default of the field."),
        needs("into", _INTO, "The name that its outputs are referred to by, as {name.output}."),
        Key("show", List(Text()), "The outputs shown large, best no more than two."),
        _QUIET,
    ),
    "gate": _step("gate", "What is judged before going on.",
        needs("if_no", Text(WARNED), "What to do where it does not pass."),
        Key("calculator", Text(), "A calculator judges."),
        Key("with", _WITH, "What the calculator is given, by field."),
        Key("into", _INTO, "The name that its outputs are referred to by."),
        Key("show", List(Text()), "The outputs shown large."),
        Key("value", Text(), "A value is judged by limits, as {name}."),
        Key("low", _QUANTITY, "The least that passes."),
        Key("high", _QUANTITY, "The greatest that passes."),
        Key("choices", CHOICES, "A state that is seen judges: key: what is shown."),
        Key("go", Either((Text(), List(Text()), Pairs(_KEYS, 1))), "What passes: the keys of states, or output: values."),
        _REASONS,
        _QUIET,
        by={
            "calculator": By(("with", "into", "go"), ("show",)),
            "value": By((), ("low", "high"), ("low", "high")),
            "choices": By(("go",)),
        },
    ),
    "start": _step("start", "What starts.",
        needs("clock", Word(), "The name of the clock."),
        needs("title", Text(18), "What the clock is called on the screen."),
        needs("kind", OneOf(CLOCK_KINDS), "Whether something must be done before it ends, or not before."),
        needs("time", _QUANTITY, "How long it runs."),
        needs("note", Text(DETAIL), "What the time is of, and where it is from."),
        needs("action", Text(40), "What to do when it is due."),
        needs("if_late", Text(WARNED), "What to do when it is past."),
        needs("time_to_act", _QUANTITY, "How long before its end it warns."),
        needs("consequence", Text(DETAIL), "What being late costs."),
        Key("ages_at", _QUANTITY, "Its time is the sheet's at this temperature; the clock goes by the readings of the shop."),
        Key("at_once", OneOf(("yes",)), "It starts with the step before, without a key."),
    ),
    "wait": _step("wait", "What is waited for.",
        needs("clock", Word(), "A NOT BEFORE clock started before."),
        _REASONS,
    ),
}

ASKED = STEPS["ask"].with_keys(needs("default", Text(), "The answer offered, and the one a sheet is worked out with.",
    "add 'default: ...', so that a sheet can be worked out"))
"""What a recipe asks at its start."""

CAUTIONS: Mapping[Signal, Form] = {
    signal: Form(f"a {signal}", (
        needs(signal, Text(WARNED), "The hazard and what it does, before the step it warns of; what to do is a step."),
        Key("reason", Text(), "What makes death or serious injury certain.", signal == "DANGER",
            "add 'reason: why death or serious injury will result', or write WARNING"),
    ))
    for signal in SIGNALS
}
_ANY_STEP = Nested((*STEPS.values(), *CAUTIONS.values()))

SECTION = Form("a section", (
    needs("section", Text(30), "What it is called."),
    needs("mode", OneOf(MODES), "Followed step by step, or done from skill and confirmed. One that starts a DO BEFORE clock is "
          "read-do."),
    Key("repeat", Nested((REPEAT,)), "It is done several times; {turn} in its texts is the number of the turn, from 1. "
        "A plan made anew within the turns it counts takes the place of turns added or left off by hand."),
    Key("until", Text(DETAIL), "When to stop repeating it."),
    Key("takes", _QUANTITY, "How long hands are on it, each turn: a time, or a figure such as {plan.minutes}."),
    needs("steps", List(_ANY_STEP), "Its steps, best 5 to 9, each with the cautions before it."),
), both=("repeat", "until"))
_USE = Form("a use of an operation", (
    needs("use", Word(DASHED), "The operation whose sections come here."),
    Key("with", Pairs(Text()), "What it is given."),
    Key("as", Word(), "The prefix of what it gives; without it the operation's name."),
    Key("between", List(_ANY_STEP, 1), "Steps that come where the operation has its place for them."),
    Key("when", _CONDITION, "The condition that all its steps hang on."),
))
USE = _USE.with_keys(
    Key("before", List(Nested((SECTION, _USE)), 1), "Sections, or uses of operations, that come where the operation has its "
        "place for them."),
)
CONSUMED = Form("a use", (
    needs("material", Text(), "A choice of material as {name}, or a text. Amounts of one material are added up."),
    needs("amount", Text(), "A figure of the recipe as {name}, or a quantity; a bare number counts pieces."),
    Key("times", Text(), "How many times that amount: a whole number, or a count as {name}."),
    Key("waste", Text(), "What is lost of it, in %."),
    Key("when", Pairs(_KEYS, 1, 1), "It is consumed only with this answer to a choice."),
))
ACCEPTANCE = Form("an acceptance", (
    needs("check", Text(), "What the work is accepted by."),
    needs("by", Text(), "How it is looked at: the detail of its step."),
))
RECIPE = Form("a recipe", (
    needs("recipe", Word(DASHED), "Its name, that of its file."),
    needs("title", Text(40), "What it is called on the screen."),
    needs("version", Text(12), "Its version, a text of your own."),
    needs("date", Word(r"\d{4}-\d{2}-\d{2}", "write it as YYYY-MM-DD, in quotes"), "When it was last changed."),
    needs("about", Text(), "What it covers and what not."),
    needs("needs", List(Text(), 1), "What has to be there before it starts."),
    needs("asks", List(Nested((ASKED,)), 1),
        "What it asks at the start, each with its default, best no more than nine."),
    needs("sections", List(Nested((SECTION, USE)), 1), "Its sections, and the operations it uses."),
    Key("after", List(Text(STATE), 1), "The states that a part should have before; one that is missing is said, not forbidden."),
    Key("makes", Text(STATE), "The state it leaves a part in, such as sheathed."),
    Key("uses", List(Nested((CONSUMED,)), 1), "What it consumes: each material with its amount, told before the start."),
    Key("accept", List(Nested((ACCEPTANCE,)), 1), "What the work is accepted by: the last section, of which nothing can wait."),
    needs("sources", List(Nested((SOURCE,)), 1), "What its figures and ways rest on."),
))

ONLY = Key("only", Pairs(_KEYS, 1), "It is there only where the operation is given one of these.")
"""Of a step or section of an operation."""
PLACE = Form("a place in an operation", (
    needs("between", Text(), "In its place come the steps that the use gives; write 'here'."),
))
PLACE_BEFORE = Form("a place in an operation", (
    needs("before", Text(), "In its place come the sections that the use gives; write 'here'."),
))
_OWN_STEP = Nested((*(form.with_keys(ONLY) for form in (*STEPS.values(), *CAUTIONS.values())), PLACE))
OPERATION = Form("an operation", (
    needs("operation", Word(DASHED), "Its name, that of its file."),
    needs("about", Text(), "What it does, and what it does not."),
    Key("takes", Pairs(Text()), "What it is given: name: the default, or 'needed'. {resin.pot_life} in its texts becomes the "
        "reference it was given."),
    Key("gives", Pairs(Word(), key=NAME), "What the recipe may refer to afterwards, as {shop.air}: the name "
        "outside: the name of a step's into, adds_to or clock."),
    Key("uses", List(Nested((CONSUMED.with_keys(ONLY),)), 1), "What it consumes; it is added to what the recipe does."),
    needs("sections", List(Nested((
        SECTION.with_keys(Key("steps", List(_OWN_STEP), "Its steps.", is_needed=True), ONLY), USE.with_keys(ONLY),
        PLACE_BEFORE)), 1),
        "Its sections, and the operations it uses."),
))
# fmt: on
