"""The command `lockarc`: a leaf that nothing imports."""
