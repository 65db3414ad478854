"""Every number the program shows, with its name, unit and meaning, and how it is read."""
