"""What work costs: sweeps asked for, memory held."""
