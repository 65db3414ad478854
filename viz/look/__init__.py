"""How things look: colours, strokes, light and dark."""
