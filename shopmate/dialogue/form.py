"""A calculator's form as it is filled in: which field is asked, what becomes of a text, and what all of them come to."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from shopmate import calc
from shopmate.calculator import Calculator, Choice, Either, Field, Kind, Value, measure_of, usual_unit
from shopmate.dialogue.blank import Blank
from shopmate.errors import EntryError, FieldProblem, InputError, ShopmateError
from shopmate.phrases import phrase
from shopmate.picture import Picture
from shopmate.recipe import Material, lender
from shopmate.result import Result
from shopmate.session.at_hand import MATERIAL, Origin
from shopmate.units import Quantity, System, dimension, in_system, offered

_FROM: Mapping[Origin, str] = {
    "last time": "last time",
    "recipe": "from the recipe",
    "reading": "just measured",
    "shelf": "from the shelf",
    "default": "default",
}
"""What is said of where a text comes from that was not typed now."""


class Form:
    """The fields of one calculator with what is filled in; every face asks it, and tells it what was typed.

    `last` are texts used before, offered as the values to begin with, and `origins` where those are from that were not typed
    last time; `system` is what results are shown in and bare numbers are typed in; `remember` is called with the texts
    whenever one is taken. Of `materials`, by name, one fills in the fields that the calculator has figures of the shelf for.

    It asks for what the calculator is asked with; all other fields come after `ask_all`.
    """

    def __init__(
        self,
        calculator: Calculator,
        last: Mapping[str, str],
        system: System,
        remember: Callable[[Mapping[str, str]], None] = lambda texts: None,
        origins: Mapping[str, Origin] | None = None,
        materials: Mapping[str, Material] | None = None,
    ) -> None:
        self.calculator, self.system = calculator, system
        self._remember = remember
        self._materials = materials or {}
        self._material_field = Field(MATERIAL, phrase("Material"), Choice(tuple(self._materials)))
        self.texts: dict[str, str] = {field.name: last[field.name] for field in calculator.inputs if last.get(field.name)}
        """The text of each field filled in, fit to be given as `last` another time."""
        if last.get(MATERIAL) in self._materials:
            self._choose_material(last[MATERIAL])
        self._origins: dict[str, Origin] = {name: (origins or {}).get(name, "last time") for name in self.texts}
        self._all = not calculator.asked
        self._types_figures = False
        self._length_unit = ""
        """The unit chosen last for a length in place of the one offered, '' if none was."""
        self._turned: Field | None = None
        """The one that was turned to, of the fields of which one is given."""
        self._spots = self._to_ask()
        self.kept = False
        """Whether the result is to be kept in the log."""
        self.fault = ""
        """Why what was taken last could not be remembered; '' where it was."""
        self.result: Result | None = None
        """What the fields come to, None while they come to nothing."""
        self.pictures: tuple[Picture, ...] = ()
        """The result drawn, none where there is nothing to draw."""
        self.waiting: Sequence[str] = ()
        """The titles of the fields gone past without which there is no result."""
        self.problems: Sequence[str] = ()
        """What is wrong with fields that were filled in, or gone past."""
        self._wrong = ""
        self.go_to(self._first())

    # What is asked, in which order

    def _to_ask(self) -> list[tuple[Field, ...]]:
        """Return what is asked one after another: each a field, or the fields of which one is given."""
        calculator, filled = self.calculator, self._figures
        ahead = [(self._material_field,)] if self._materials else []
        if self._all:
            return [*ahead, *((field,) for field in calculator.inputs)]
        asked = calculator.asks
        named = {field.name for spot in asked for field in spot} | filled.keys()
        rest = [field for field in calculator.inputs if field.name not in named]
        stocked = [field for field in rest if field.name in self._stocked and MATERIAL not in self.texts]
        unknown = [field for field in stocked if field.name not in self._origins and (field.required or not self._materials)]
        typed = stocked if self._types_figures else unknown
        needed = [field for field in rest if field.required and field not in stocked and field.name not in self._origins]
        return [*ahead, *((field,) for field in typed), *asked, *((field,) for field in needed)]

    def _first(self) -> int:
        """Return the number of what is asked first: the first that no material and no reading has filled in."""
        for at, (field, *_) in enumerate(self._spots):
            if field is self._material_field:
                known = any(name in self.texts for name in (MATERIAL, *self._stocked))
            else:
                known = field.name in self._figures or self.origin(field) == "reading"
            if not known:
                return at
        return len(self._spots)

    @property
    def _stocked(self) -> Mapping[str, str]:
        """The figures of a material that fill fields, by field."""
        return self.calculator.stock.figures if self.calculator.stock is not None else {}

    @property
    def fields(self) -> Sequence[Field]:
        """What is asked, in its order: of the fields of which one is given the one in hand."""
        return [self._in_hand(spot) for spot in self._spots]

    @property
    def others(self) -> Sequence[Field]:
        """The fields that are not asked, with what stands in for each."""
        asked = {field.name for spot in self._spots for field in spot}
        return [field for field in self.calculator.inputs if field.name not in asked]

    def _in_hand(self, spot: tuple[Field, ...]) -> Field:
        if self._turned is not None and self._turned in spot:
            return self._turned
        return next((field for field in spot if field.name in self.texts), spot[0])

    def ask_all(self) -> None:
        """Ask for every field from here on, beginning with the first that was not asked so far."""
        self._go_to_one(next((field.name for field in self.others), ""))

    def _go_to_one(self, name: str) -> None:
        """Ask for the field of that name, and where it was not asked so far for all; for the first where there is none."""
        if self._at(name) is None:
            self._all = True
            self._spots = self._to_ask()
        self.go_to(self._at(name) or 0)

    def _at(self, name: str) -> int | None:
        """Return the number under which a field is asked, None where it is not."""
        return next((at for at in range(len(self._spots)) if name in self._names_at(at)), None)

    # The field that is asked

    def go_to(self, at: int) -> None:
        """Ask for the field of that number, from 0; one past the last is the end."""
        self.at = max(0, at)
        self._turned = None
        self._ask()

    def _ask(self) -> None:
        self.by_figure = False
        """Whether a figure is typed in place of a name from the list."""
        fields = self.fields
        self.field: Field | None = fields[self.at] if self.at < len(fields) else None
        """The field that is asked, None at the end."""
        last = fields[min(self.at, len(fields) - 1)]
        self.blank = Blank(last.kind, self._begins_in(last.kind), self._value(last))
        """The value that is asked for; at the end the last one."""

    def _begins_in(self, kind: Kind) -> str:
        """Return the unit of a number typed without one: for a length the one chosen last, if the usual lengths fit it.

        Nobody types a thickness in metres; inches are divided, so they fit any.
        """
        usual, measure, unit = usual_unit(kind, self.system), measure_of(kind), self._length_unit
        if not unit or measure is None or unit not in offered(measure.unit):
            return usual
        most = measure.soft_high if measure.soft_high is not None else measure.high
        fits = most is not None and (unit == "in" or Quantity(most, measure.unit).value_in(unit) >= 1)
        return unit if fits else usual

    def _value(self, field: Field) -> Value | None:
        """Return what a field is given so far, None where it has no text or one that it no longer takes."""
        try:
            return field.kind.read(self.texts.get(field.name, ""))
        except EntryError:
            return None

    @property
    def turns_to(self) -> Field | None:
        """The field that can be given in place of the one asked, None where there is none."""
        spot = self._spots[self.at] if self.field is not None else ()
        if self.field is None or len(spot) < 2:
            return None
        return spot[(spot.index(self.field) + 1) % len(spot)]

    def turn(self) -> None:
        """Ask for the next of the fields of which one is given."""
        self._turned = self.turns_to
        self._ask()

    @property
    def asks_material(self) -> bool:
        """Whether a material is asked for, one of `names`, or none of them: then its figures are asked for."""
        return self.field is self._material_field

    @property
    def names(self) -> tuple[str, ...]:
        """The names one of which is chosen now; none where a text is typed."""
        kind = self.field.kind if self.field is not None and not self.by_figure else None
        choice = kind.choice if isinstance(kind, Either) else kind
        return choice.names() if isinstance(choice, Choice) else ()

    def title_of(self, name: str) -> str:
        """Return one of `names` as it is shown."""
        return self._materials[name].title if self.asks_material else name

    @property
    def may_be_figure(self) -> bool:
        """Whether a figure can be typed in place of the names, or the figures in place of a material."""
        either = self.field is not None and isinstance(self.field.kind, Either)
        return (either or self.asks_material) and not self.by_figure

    @property
    def offered(self) -> str:
        """The text that Enter keeps, '' where there is none."""
        return self.given(self.field) if self.field is not None else ""

    @property
    def may_pass(self) -> bool:
        """Whether the result can do without another text for this field."""
        return self.field is None or bool(self.offered) or not self.field.required

    @property
    def may_clear(self) -> bool:
        """Whether what was given for this field can be taken out again."""
        return self.field is not None and self.field.optional and self.field.name in self.texts and not self.asks_material

    @property
    def may_go_back(self) -> bool:
        """Whether there is something to go back to: the field before, or the names of this one."""
        return self.at > 0 or self.by_figure

    @property
    def _figures(self) -> dict[str, str]:
        """The texts that the material fills fields with, by field."""
        material, stock = self._materials.get(self.texts.get(MATERIAL, "")), self.calculator.stock
        return stock.filled(material.figures) if material is not None and stock is not None else {}

    def given(self, field: Field) -> str:
        """Return the text that a field counts with, '' where it has none."""
        return self.texts.get(field.name) or self._figures.get(field.name) or field.default or ""

    def said(self, field: Field) -> str:
        """Return what a field counts with as it is shown, '' where it has nothing."""
        text = self.given(field)
        return self._materials[text].title if field is self._material_field and text else text

    def origin(self, field: Field) -> Origin:
        """Return where that text comes from, '' where there is none."""
        if field.name in self.texts:
            return self._origins.get(field.name, "typed")
        if field.name in self._figures:
            return "shelf"
        return "default" if field.default else ""

    @property
    def offered_from(self) -> str:
        """The text that Enter keeps with where it comes from, as it is shown; '' where there is none."""
        if self.field is None or not self.offered:
            return ""
        text, origin = self.said(self.field), self.origin(self.field)
        said = ", ".join(filter(None, (phrase(_FROM[origin]), self.lender(self.field)))) if origin in _FROM else ""
        return f"{text} ({said})" if said else text

    def lender(self, field: Field) -> str:
        """Return the mark of a text from the shelf that is still another material's, '' where it is not."""
        material = self._materials.get(self.texts.get(MATERIAL, ""))
        if material is None or self.origin(field) != "shelf":
            return ""
        return lender(material, self._stocked[field.name], self._materials)

    def place(self, field: Field) -> str:
        """Return the place at which what is half typed for a field is kept."""
        return f"form:{self.calculator.name} {field.name}"

    def help(self, field: Field) -> str:
        """Return the sentence that helps with a field, in the units of the system."""
        return in_system(field.help, self.system)

    @property
    def valid(self) -> str:
        """Where the calculator is valid, in the units of the system."""
        return in_system(self.calculator.valid, self.system)

    # What is done to it

    def take(self, text: str) -> str:
        """Take a text for this field and go to the next; return the question about one that looks odd instead, else ''.

        Raises EntryError for what the field does not take.
        """
        question = self.blank.question(text)
        if not question:
            at = self.at
            given = self.blank.kind.read(text)
            if isinstance(given, Quantity) and given.unit != self.blank.unit and dimension(given.unit) == "length":
                self._length_unit = given.unit
            self.pick(text)
            self.go_to(at + 1)
        return question

    def pick(self, name: str) -> None:
        """Take a name for this field and stay at it; go on from a material, which may change what is asked after it."""
        assert self.field is not None
        if self.asks_material:
            self._choose_material(name)
            self._after_material()
        else:
            self._set(self.field, name)

    def type_figure(self) -> None:
        """Have a figure typed in place of a name; in place of a material go on to the figures that it would fill in."""
        if self.asks_material:
            self.texts.pop(MATERIAL, None)
            self._after_material(types_figures=True)
        else:
            self.by_figure = True

    def _choose_material(self, name: str) -> None:
        """Take a material, whose figures go before those that were typed for its fields."""
        for field in self._stocked:
            self.texts.pop(field, None)
        self.texts[MATERIAL] = name

    def _after_material(self, *, types_figures: bool = False) -> None:
        self._types_figures = types_figures
        self._remember_all()
        self._spots = self._to_ask()
        self.go_to(self.at + 1)

    def clear(self) -> None:
        """Take out what was given for this field."""
        assert self.field is not None
        self._set(self.field, None)
        self._ask()

    def _set(self, field: Field, text: str | None) -> None:
        for other in next((spot for spot in self._spots if field in spot), ()):
            self.texts.pop(other.name, None)
            self._origins.pop(other.name, None)
        if text is not None:
            self.texts[field.name] = text
        self._remember_all()

    def _remember_all(self) -> None:
        try:
            self._remember(self.texts)
        except ShopmateError as error:
            self.fault = str(error)
        else:
            self.fault = ""

    def forward(self) -> None:
        """Go to the next field, with what this one has."""
        self.go_to(self.at + 1)

    def back(self) -> None:
        """Go back to the names of this field, or to the field before."""
        if self.by_figure:
            self._ask()
        else:
            self.go_to(self.at - 1)

    def back_to_problem(self) -> None:
        """Go to the first field with a problem; where that was not asked, ask for all."""
        self._go_to_one(self._wrong)

    # What it comes to

    @property
    def entered(self) -> dict[str, str]:
        """The texts that the calculator is given: those filled in, and the figures of the material."""
        return self._figures | {name: text for name, text in self.texts.items() if name != MATERIAL}

    def work_out(self, typed: str | None = "") -> None:
        """Work out the result, with the text being `typed` for this field: '' where nothing is, None where it has no meaning.

        Nothing is said of a field that was not come to yet.
        """
        texts = self.entered
        if self.field is not None and typed:
            texts = {name: text for name, text in texts.items() if name not in self._names_at(self.at)} | {self.field.name: typed}
        self.result, self.pictures, self.problems, self._wrong, self.waiting = None, (), (), "", ()
        passed = self._passed(typed)
        empty = [field for field in self.calculator.inputs if field.required and not texts.get(field.name)]
        if typed is None or empty:
            waiting = [self.field.title] if self.field is not None and typed is None else []
            self.waiting = tuple(dict.fromkeys([*waiting, *(field.title for field in empty if field.name in passed)]))
            self._wrong = empty[0].name if empty else ""
            return
        try:
            self.result = result = calc.run(self.calculator.name, texts, self.system)
        except InputError as error:
            wrong = {problem.field for problem in error.problems}
            self._wrong = next((field.name for field in self.calculator.inputs if field.name in wrong), "")
            self.problems = [self._told(problem) for problem in error.problems if problem.field in passed]
        except ShopmateError as error:
            self.problems = [str(error)]
        else:
            self.pictures = self.calculator.drawn(result.inputs, result.outputs)

    def _passed(self, typed: str | None) -> set[str]:
        """Return the names of the fields that were come to: at the end all of them."""
        if self.field is None:
            return {field.name for field in self.calculator.inputs}
        upto = self.at + (1 if typed else 0)
        come_to = {name for at in range(upto) for name in self._names_at(at)}
        return come_to | set(self.texts)

    def _names_at(self, at: int) -> tuple[str, ...]:
        return tuple(field.name for field in self._spots[at])

    def _told(self, problem: FieldProblem) -> str:
        title = next((field.title for field in self.calculator.inputs if field.name == problem.field), problem.field)
        return f"{title}: {problem.what}; {problem.fix}"
