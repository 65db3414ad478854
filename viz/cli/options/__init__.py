"""What several commands take alike: the kart and settings asked for, outputs, and how arguments are read."""
