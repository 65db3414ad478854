"""A swept kart on the road: its stance in a load case, steering effort, and what gauges and scales read."""
