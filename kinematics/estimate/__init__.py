"""Numbers found from readings: what fits best, how sure that is, and what cannot be told."""
