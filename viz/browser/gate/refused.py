"""Every refusal of the front door: its status, and the one line that a visitor reads."""

from __future__ import annotations

from aiohttp import web

from viz.browser import page

AGAIN = "/"
LATE = (
    0.3  # s that the answer waits to what no page of ours asks: who asks it again and again takes less time
)
STRANGE = (400, 403, 413)
"""What is answered late, and its connection closed."""
WORDS = {
    400: ("Not a request", "This page cannot read what was asked."),
    403: ("Not open to you", "This page needs its token. Open the address that was printed when it started."),
    404: ("There is nothing here", "No page has this address."),
    405: ("Not done here", "This address is not asked in that way."),
    410: (
        "This visit has ended",
        "This visit has ended: the page was away for too long, or the program was started again.",
    ),
    413: ("Too much", "This page takes no request of that size."),
    503: (
        "Full house",
        "As many people as this page can serve are using it. Try again when somebody has left.",
    ),
    500: ("Not done", "The program could not do that; nothing was changed."),
}
"""Title and line of a refusal by its status; what has none of its own reads as 400 or 500."""


class Refused(Exception):
    """A request that is not answered; words and the way on only where the status does not say it all."""

    def __init__(self, status: int, words: str = "", link: str = "") -> None:
        super().__init__(words or WORDS[status][1])
        self.status, self.link = status, link


def answer(refused: Refused) -> web.Response:
    """The page that tells it."""
    text = page.message_page(WORDS[refused.status][0], str(refused), refused.link)
    return web.Response(text=text, status=refused.status, content_type="text/html", headers=page.SECURITY)


def by_status(status: int) -> Refused:
    """The refusal for a status that a library came to."""
    return Refused(status if status in WORDS else 400 if status < 500 else 500)
