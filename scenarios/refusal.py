"""What pydantic found wrong, said in one line of the workshop's language."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, get_args, get_origin

from annotated_types import Ge, Gt, Le, Lt
from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from scenarios.errors import complaint, nearest, shown, unit_of

A_NAME = "starts with a letter or digit, then letters, digits, space, . _ + or -"
Location = Sequence[int | str]
WANTED = {
    "float": "must be a number",
    "int": "must be a whole number",
    "string": "must be text in quotes",
    "tuple": "must be a list in [ ]",
    "dict": "must be a table",
    "model": "must be a table",
    "model_attributes": "must be a table",
}


def one_line(error: ValidationError, model: type[BaseModel]) -> str:
    """The first thing to put right, misspelt keys before all else; says how many more there are."""
    details = error.errors(include_url=False)
    first = min(details, key=lambda d: d["type"] != "extra_forbidden")
    more = f" (and {len(details) - 1} more)" if len(details) > 1 else ""
    return _line(first, model) + more


def _line(detail: ErrorDetails, model: type[BaseModel]) -> str:
    place = [part for part in detail["loc"] if part != "[key]"]
    key, kind = written(place), detail["type"]
    if kind == "extra_forbidden":
        return f"{key}: unknown key{_suggestion(place, model)}"
    if kind == "missing":
        unit = unit_of(key)
        return f"{key}: missing{f', needed in {unit}' if unit else ''}"
    if "[key]" in detail["loc"]:
        return f"{key}: a name {A_NAME}, at most 60"
    return complaint(key, detail["input"], _allowed(detail, _field(place, model), unit_of(key)))


def written(place: Location) -> str:
    """A place as the file writes it: ('load_case', 1, 'name') -> 'load_case[2].name', counted from one."""
    text = ""
    for part in place:
        text += f"[{part + 1}]" if isinstance(part, int) else f"{'.' if text else ''}{_word(part)}"
    return text


def _word(key: str) -> str:
    """A key on one line whatever it holds, and not for ever."""
    plain = key if key and key.isprintable() else repr(key)
    return plain if len(plain) <= 60 else plain[:57] + "..."


def _allowed(detail: ErrorDetails, field: FieldInfo | None, unit: str) -> str:
    kind, context = detail["type"], detail.get("ctx", {})
    if kind == "finite_number":
        return "must be a finite number" + _after(_range(field, unit))
    if kind in ("greater_than", "greater_than_equal", "less_than", "less_than_equal"):
        return "must be " + (_range(field, unit) or detail["msg"].removeprefix("Input should be "))
    if kind.endswith("_type") and kind.removesuffix("_type") in WANTED:
        return WANTED[kind.removesuffix("_type")] + _after(_range(field, unit))
    if kind in ("too_short", "too_long"):
        return _how_many(context)
    if kind == "string_pattern_mismatch":
        return "must be one line of text" if "x00" in context["pattern"] else A_NAME
    return "must" + detail["msg"].rpartition(" should")[2]


def _after(text: str) -> str:
    return f", {text}" if text else ""


def _how_many(context: dict[str, Any]) -> str:
    least, most = context.get("min_length"), context.get("max_length")
    bound = f"at least {least}" if least is not None else f"at most {most}"
    entries = "entry" if 1 in (least, most) else "entries"
    return f"must have {bound} {entries}, not {context.get('actual_length')}"


def _range(field: FieldInfo | None, unit: str) -> str:
    """'at least 500 and at most 2000 mm' from a field's limits, '' when it has none."""
    limits = [] if field is None else list(_limits(field.metadata)) or list(_limits_inside(field.annotation))
    text = " and ".join(limits)
    return f"{text} {unit}".rstrip() if text else ""


def _limits(metadata: Sequence[object]) -> Iterator[str]:
    for m in metadata:
        if isinstance(m, Ge):
            yield f"at least {shown(m.ge)}"
        elif isinstance(m, Gt):
            yield f"above {shown(m.gt)}"
        elif isinstance(m, Le):
            yield f"at most {shown(m.le)}"
        elif isinstance(m, Lt):
            yield f"below {shown(m.lt)}"
        elif isinstance(m, FieldInfo):
            yield from _limits(m.metadata)


def _limits_inside(annotation: object) -> Iterator[str]:
    """The limits written inside an annotation: of an optional number, of a list's entries."""
    if metadata := getattr(annotation, "__metadata__", ()):
        yield from _limits(metadata)
    for argument in get_args(annotation):
        found = list(_limits_inside(argument))
        if found:
            yield from found
            return


def _models(annotation: object) -> Iterator[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for argument in get_args(annotation):
        yield from _models(argument)


def _field(place: Location, model: type[BaseModel]) -> FieldInfo | None:
    """The field that a place in the file belongs to; names and counts in between are stepped over."""
    field: FieldInfo | None = None
    for part in place:
        if isinstance(part, str) and part in model.model_fields:
            field = model.model_fields[part]
            model = next(_models(field.annotation), model)
    return field


def _suggestion(place: Location, model: type[BaseModel]) -> str:
    """The nearest key of the same table, or the table where the key is known."""
    parent = _field(place[:-1], model)
    table = model if parent is None else next(_models(parent.annotation), model)
    word = str(place[-1])
    close = nearest(word, table.model_fields)
    if close:
        return close
    homes = list(_homes(word, model, ""))
    return f"; it belongs in [{homes[0]}]" if homes else "; known here: " + ", ".join(table.model_fields)


def _homes(word: str, model: type[BaseModel], path: str) -> Iterator[str]:
    """The tables in which a key is known, as the file writes them."""
    for name, field in model.model_fields.items():
        named = ".NAME" if get_origin(field.annotation) is dict else ""
        for table in _models(field.annotation):
            place = f"{path}.{name}{named}".lstrip(".")
            if word in table.model_fields:
                yield place
            yield from _homes(word, table, place)
