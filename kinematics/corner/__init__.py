"""One front corner: from a bush pair to the steering axis, the wheel's pose and what it shows to the road."""
