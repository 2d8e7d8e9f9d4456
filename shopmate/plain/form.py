"""The form of a calculator in lines: its fields asked one by one, the result with its working."""

from __future__ import annotations

from shopmate.calculator import Field
from shopmate.dialogue.asking import Item
from shopmate.dialogue.form import Form
from shopmate.errors import EntryError
from shopmate.phrases import phrase
from shopmate.plain.lines import BACK, Lines, chosen, numbers, wanted
from shopmate.result import Presentation, Result


def fill(lines: Lines, form: Form) -> None:
    """Ask for all fields and say the result, until it is to be kept or the form is left."""
    lines.say(phrase("{calculator}, {count} fields", form.calculator.title, len(form.fields)))
    while _ask(lines, form):
        form.work_out()
        if form.result is None:
            for problem in form.problems:
                lines.say(problem)
            form.back_to_problem()
        else:
            _say_result(lines, form, form.result)
            if not _back_from(lines, form, form.result):
                return


def _ask(lines: Lines, form: Form) -> bool:
    """Ask for one field after another, to the end; return False where the form is left."""
    told: tuple[int, Field, bool] | None = None
    while (field := form.field) is not None:
        here = form.at, field, form.by_figure
        if told != here:
            told = here
            lines.say(phrase("Field {number} of {count}: {field}", form.at + 1, len(form.fields), field.title))
            if field.help:
                lines.say(form.help(field), 2)
            lines.list(_items(form))
        text = lines.ask(lambda: _keys(form))
        if text == BACK and not form.by_figure:
            return False
        _do(lines, form, field, text)
        if form.fault:
            lines.say(form.fault)
    return True


def _do(lines: Lines, form: Form, field: Field, text: str) -> None:
    """Do what a line means at a field."""
    if text == BACK or (text == "-" and form.may_go_back):
        form.back()
    elif text == "+" and form.turns_to is not None:
        form.turn()
    elif text == "+" and form.may_clear:
        form.clear()
        form.forward()
        lines.say(phrase("Cleared."))
    elif text == "0" and form.may_be_figure:
        form.type_figure()
    elif text or form.blank.doubted:
        _take(lines, form, field, text or form.blank.doubted)
    elif form.may_pass:
        form.forward()
    else:
        lines.say(phrase("This field is needed."))


def _take(lines: Lines, form: Form, field: Field, text: str) -> None:
    """Take a line for a field, or say what is wrong or odd about it."""
    try:
        item = chosen(text, _items(form))
        if item is None and form.may_be_figure and text.isdecimal():
            fix = phrase("type 0 to enter a number, or type one with its unit")
            raise EntryError(phrase("{text} is not one of the numbers", text), fix)
        given = item.key if item is not None else lines.whole(form.blank, text)
        question = form.take(given) if given is not None else None
    except EntryError as error:
        lines.say(phrase("Not accepted: {problem}", error))
    else:
        if question is not None:
            lines.say(question or f"{field.title}: {item.title if item is not None else given}")


def _items(form: Form) -> list[Item]:
    """Return the names that a field is chosen from."""
    return [Item(name, form.title_of(name)) for name in form.names]


def _keys(form: Form) -> str:
    """Return what can be typed for a field."""
    enter, names = _enter_key(form), form.names
    parts = [enter] if enter else []
    if names:
        parts.append(numbers(len(names)))
    if form.asks_material:
        parts.append(phrase("[0] enter your own figures"))
    elif form.may_be_figure:
        parts.append(phrase("[0] enter a number, or type one with its unit"))
    elif not names:
        parts.append(wanted(form.blank, beside=bool(parts)))
    if (other := form.turns_to) is not None:
        parts.append(phrase("[+] enter {field}", other.name.replace("_", " ")))
    elif form.may_clear:
        parts.append(phrase("[+] clear"))
    if form.by_figure:
        return ", ".join([*parts, phrase("[/] back")])
    if form.may_go_back:
        parts.append(phrase("[-] previous field"))
    return ", ".join([*parts, phrase("[/] leave")])


def _enter_key(form: Form) -> str:
    """Return what Enter does at a field, with where the text that it takes comes from; '' where it does nothing."""
    assert form.field is not None
    if form.blank.doubted:
        return phrase("[Enter] yes, it's right")
    if form.offered:
        return phrase("[Enter] {answer}", form.offered_from)
    return phrase("[Enter] skips it") if form.may_pass else ""


def _say_result(lines: Lines, form: Form, result: Result) -> None:
    """Say what comes of the fields, with its cautions."""
    lines.say(phrase("Result of {calculator}:", form.calculator.title))
    read = Presentation(result, form.calculator.outputs, form.system)
    warnings = (phrase("Caution: {caution}", warning) for warning in read.warnings)
    for line in (*map(str, read.head), *warnings, *map(str, read.others)):
        lines.say(line, 2)


def _back_from(lines: Lines, form: Form, result: Result) -> bool:
    """Ask what to do with the result; return whether to go back to the fields. It may be kept, or left."""
    seen = [phrase("[2] the picture in words")] if form.pictures else []
    first = phrase("[Enter] save to log, [1] working and sources")
    more = [phrase("[+] more fields")] if form.others else []
    keys = ", ".join([first, *seen, *more, phrase("[-] back to the last field, [/] leave")])
    while (text := lines.ask(lambda: keys)) not in ("", BACK, "-") and not (text == "+" and form.others):
        if text == "1":
            _say_working(lines, form, result)
        elif text == "2" and form.pictures:
            for picture in form.pictures:
                lines.say(picture.said(form.system))
        else:
            lines.say(phrase("'{text}' does nothing here.", text))
    form.kept = text == ""
    if text == "-":
        form.back()
    elif text == "+":
        form.ask_all()
    return text in ("-", "+")


def _say_working(lines: Lines, form: Form, result: Result) -> None:
    """Say the working, where it is valid, and the sources."""
    read = Presentation(result, form.calculator.outputs, form.system)
    for title, said in (("Working", read.working), ("Valid for", (form.valid,)), ("Sources", read.sources)):
        lines.say(f"{phrase(title)}:")
        for line in said:
            lines.say(line, 2, as_written=True)
