"""Views that tell one thing in one look: what is drawn, said and left out for it alone."""
