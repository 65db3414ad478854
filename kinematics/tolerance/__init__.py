"""How sure a figure is: numbers drawn from their uncertainty, bands of what comes of them, shares of each."""
