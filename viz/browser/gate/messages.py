"""What a page may say over its web socket, looked at whole before trame sees any of it.

The protocol below would let a message say how large it is going to be and take that much memory for it, call
any method by name, and keep whatever state it is sent. Of all that the page uses five calls, each of them one
small frame; what is anything else was not sent by the page.
"""

from __future__ import annotations

import struct
from collections.abc import Callable, Mapping
from typing import Any

import msgpack

LARGEST = 32_768  # bytes of one message
FIRST = 512  # bytes of a greeting, which is all that the protocol takes before it
MOST_KEYS, MOST_LISTED, LONGEST_WORD = 16, 64, 200  # of a change: a file of readings is a list of lines
HEADER = struct.Struct("<III")
"""A number, where this part begins, and how long the whole is, in bytes."""
MOMENTS = ("client_connected", "client_mounted", "client_unmounted", "client_exited")


class MessageError(ValueError):
    """A message that no page sends; one line."""


def check(frame: bytes) -> None:
    """Raise MessageError unless a frame is one whole call of those that the page makes."""
    if not HEADER.size < len(frame) <= LARGEST:
        raise MessageError("a message of no length that a page sends")
    _, begins, claimed = HEADER.unpack_from(frame)
    if begins or claimed != len(frame) - HEADER.size:
        raise MessageError("a message that is not as long as it says")
    try:
        call = msgpack.unpackb(frame[HEADER.size :])
    except (ValueError, TypeError, msgpack.UnpackException):
        raise MessageError("a message that cannot be read") from None
    if not _known(call) or (call["method"] == "wslink.hello" and len(frame) > FIRST):
        raise MessageError("a call that no page makes")


def _known(call: object) -> bool:
    if not isinstance(call, dict) or not _word(call.get("id")) or call.get("kwargs", {}) != {}:
        return False
    method, args = call.get("method"), call.get("args", [])
    return isinstance(method, str) and method in CALLS and isinstance(args, list) and CALLS[method](args)


def _word(value: object) -> bool:
    return isinstance(value, str) and len(value) <= LONGEST_WORD


def _hello(args: list[Any]) -> bool:
    return len(args) == 1 and isinstance(args[0], dict) and args[0].keys() == {"secret"}


def _moment(args: list[Any]) -> bool:
    return len(args) == 1 and args[0] in MOMENTS


def _error(args: list[Any]) -> bool:
    return len(args) == 1 and isinstance(args[0], str)


def _trigger(args: list[Any]) -> bool:
    if len(args) != 3 or args[2] != {} or not isinstance(args[1], list):
        return False
    return args[:2] == ["hello", []] or (args[0] == "change" and len(args[1]) == 1 and _flat(args[1][0]))


def _flat(change: object) -> bool:
    """A mapping of words to words, numbers and short lists of them."""
    if not isinstance(change, dict) or len(change) > MOST_KEYS:
        return False
    return all(
        _word(key)
        and (
            _plain(value)
            or (isinstance(value, list) and len(value) <= MOST_LISTED and all(map(_plain, value)))
        )
        for key, value in change.items()
    )


def _plain(value: object) -> bool:
    return value is None or isinstance(value, (bool, int, float)) or _word(value)


CALLS: Mapping[str, Callable[[list[Any]], bool]] = {
    "wslink.hello": _hello,
    "trame.state.get": lambda args: args == [],
    "trame.lifecycle.update": _moment,
    "trame.trigger": _trigger,
    "trame.error.client": _error,
}
"""The calls of the page, each with what its arguments must be."""
