"""What is asked of readings: what to take next, the kart that they mean, a steering axis."""
