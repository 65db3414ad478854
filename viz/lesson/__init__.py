"""A lesson as a film with captions, and as a page that steps."""
