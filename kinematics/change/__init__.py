"""One setting against another: what differs, and what puts it right."""
