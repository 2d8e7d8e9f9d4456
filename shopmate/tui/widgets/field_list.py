"""The fields of a form with their values, the one being filled in always in view."""

from __future__ import annotations

from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

from shopmate.calculator import Field
from shopmate.dialogue.form import Form
from shopmate.phrases import phrase

_ENTRY_ROWS = 13
"""Rows under the list that the field being filled in needs."""


class FieldList(Widget):
    """As many fields as there is room for; drawn anew with `refresh` when the form has changed."""

    def __init__(self, form: Form) -> None:
        super().__init__()
        self._form = form

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return max(1, min(len(self._fields), container.height - _ENTRY_ROWS))

    @property
    def _fields(self) -> list[Field]:
        """What is asked, in its order, and then all else, as far as there is room for it."""
        return [*self._form.fields, *self._form.others]

    def render(self) -> Content:
        fields = self._fields
        width, height = self.content_size
        first = max(0, min(self._form.at - height // 2, len(fields) - height))
        lines = []
        for index, item in list(enumerate(fields))[first : first + height]:
            here = index == self._form.at and self._form.field is not None
            # What is said of the value gives way to the title of the field, that to the value.
            values = self._values(item)
            value = next((text for text in values if len(item.title) + text.cell_length + 4 <= width), values[-1])
            room = max(1, width - value.cell_length - 4)
            title = Content(item.title).truncate(room, ellipsis=True)
            line = Content.assemble("▸ " if here else "  ", title.pad_right(room - title.cell_length), "  ", value)
            asked = index < len(self._form.fields)
            lines.append(line.truncate(width, ellipsis=True).stylize("bold" if here else "" if asked else "$quiet"))
        return Content("\n").join(lines)

    def _values(self, item: Field) -> tuple[Content, ...]:
        """Return what to say of a field's value, from the fullest to the shortest."""
        text, origin = self._form.said(item), self._form.origin(item)
        if not origin:
            shortest = Content.styled("–", "$quiet")
            return (Content.styled(phrase("optional"), "$quiet"), shortest) if item.optional else (Content(phrase("needed")),)
        said = f" {phrase(origin)}" if origin != "typed" else ""
        values = Content.assemble(text, (said, "$quiet")), Content(text)
        if mark := self._form.lender(item):
            return Content.assemble(text, f" {mark}"), Content.assemble(text, f" {phrase('borrowed')}")
        return values
