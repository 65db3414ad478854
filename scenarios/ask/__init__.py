"""Questions put to a scenario, each worked out once: a run, a comparison, a choice, a map, a bench sheet."""
