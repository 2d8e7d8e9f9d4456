"""The JSON Schemas of recipes and operations, made from the form that the reader goes by: `tests/docs.py --write` renews them."""

from __future__ import annotations

import json
import re

from shopmate.recipe.form import OPERATION, RECIPE
from shopmate.recipe.keys import WHOLE, By, Either, Form, Key, List, Nested, OneOf, Pairs, Shape, Text, Word

DRAFT = "https://json-schema.org/draft/2020-12/schema"

FORMS = {"recipe": (RECIPE, False), "operation": (OPERATION, True)}
"""What each schema is of, and whether what is given may stand in any of its texts, as {name}."""

SCALAR = ["string", "number", "boolean"]
"""What a YAML parser makes of a text without quotes; the reader takes each as it is written."""

GIVEN = {"type": "string", "pattern": r"\{[a-z][a-z0-9_.]*\}"}
"""A text in which an operation puts what it is given."""

Schema = dict[str, object]


def schema(name: str) -> str:
    """Return the schema of that name as it is shipped."""
    form, may_be_given = FORMS[name]
    made = _Schema(may_be_given)
    root = made.of_form(form)
    whole = {"$schema": DRAFT, "title": f"{form.what[0].upper()}{form.what[1:]} for shopmate", **root, "$defs": made.defs}
    return _written(whole, 0) + "\n"


def _written(value: object, depth: int) -> str:
    """Return a value as JSON, on one line where it fits 130 columns."""
    line = json.dumps(value, ensure_ascii=False)
    if depth + len(line) < 120 or not isinstance(value, dict | list):
        return line
    within, space = " " * (depth + 1), " " * depth
    if isinstance(value, list):
        items = [_written(item, depth + 1) for item in value]
        return "[\n" + ",\n".join(f"{within}{item}" for item in items) + f"\n{space}]"
    pairs = [f"{json.dumps(name, ensure_ascii=False)}: {_written(item, depth + 1)}" for name, item in value.items()]
    return "{\n" + ",\n".join(f"{within}{pair}" for pair in pairs) + f"\n{space}}}"


class _Schema:
    """One schema as it is made, with what it refers to."""

    def __init__(self, may_be_given: bool) -> None:
        self.may_be_given = may_be_given
        self.defs: dict[str, Schema] = {}
        self.names: dict[int, str] = {}

    def of_form(self, form: Form) -> Schema:
        made: Schema = {
            "type": "object",
            "properties": {key.name: {**self.of(key.shape), "description": _told(key)} for key in form.keys},
            "required": list(form.needed),
            "additionalProperties": False,
        }
        if form.both:
            made["dependentRequired"] = {key: [other for other in form.both if other != key] for key in form.both}
        if form.by:
            made["oneOf"] = [{"required": [name]} for name in form.by]
            made["allOf"] = list(_rules(form))
        return made

    def reference(self, form: Form) -> Schema:
        """Return a reference to a form, which is written out once."""
        if id(form) not in self.names:
            plain = re.sub(r"[^A-Za-z0-9]+", "-", form.what).strip("-")
            same = sum(name == plain or name.startswith(f"{plain}.") for name in self.defs)
            self.names[id(form)] = name = f"{plain}.{same + 1}" if same else plain
            self.defs[name] = {"title": form.what}
            self.defs[name] |= self.of_form(form)
        return {"$ref": f"#/$defs/{self.names[id(form)]}"}

    def of(self, shape: Shape) -> Schema:
        match shape:
            case Text(_, may_be_empty):
                return {"type": [*SCALAR, "null"]} if may_be_empty else {"type": SCALAR, "pattern": r"\S"}
            case Word(pattern):
                number: Schema = {"type": ["string", "integer"], "minimum": 0, "maximum": 9999} if shape == WHOLE else {}
                return self.or_given({"type": "string", "pattern": f"^(?:{pattern})$"} | number)
            case OneOf(choices):
                # What an older parser makes of these two words.
                guessed = [value for word, value in (("no", False), ("yes", True)) if word in choices]
                return self.or_given({"enum": [*choices, *guessed]})
            case List(of, low, high):
                return {"type": "array", "items": self.of(of), **_some(minItems=low or None, maxItems=high)}
            case Pairs(value, low, high, key):
                names = {"propertyNames": self.or_given({"pattern": f"^(?:{key})$"})} if key else {}
                limits = _some(minProperties=low or None, maxProperties=high)
                return {"type": "object", "additionalProperties": self.of(value), **names, **limits}
            case Nested(forms):
                made = [self.reference(form) for form in forms]
                return made[0] if len(made) == 1 else {"anyOf": made}
            case Either(shapes):
                return {"anyOf": [self.of(item) for item in shapes]}

    def or_given(self, made: Schema) -> Schema:
        return {"anyOf": [made, GIVEN]} if self.may_be_given else made


def _told(key: Key) -> str:
    """Return what is said of a key, with the length that is best."""
    of = key.shape.of if isinstance(key.shape, List) else key.shape
    longest = of.longest if isinstance(of, Text) else None
    return key.help if longest is None else f"{key.help} Best up to {longest} characters."


def _some(**limits: int | None) -> Schema:
    return {name: limit for name, limit in limits.items() if limit is not None}


def _rules(form: Form) -> list[Schema]:
    """Return what goes with each of the keys of which there is one."""
    owners: dict[str, list[str]] = {}
    rules: list[Schema] = []
    for name, by in form.by.items():
        for further in (*by.needed, *by.further):
            owners.setdefault(further, []).append(name)
        if by != By():
            then: Schema = {"required": list(by.needed)}
            if by.least_one:
                then["anyOf"] = [{"required": [key]} for key in by.least_one]
            rules.append({"if": {"required": [name]}, "then": then})
    rules += (
        {"if": {"required": [key]}, "then": {"anyOf": [{"required": [owner]} for owner in owned]}}
        for key, owned in owners.items()
    )
    return rules
