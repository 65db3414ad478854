"""How sure a scenario's numbers are: ways of measuring, what is usual, what a file says of it."""
