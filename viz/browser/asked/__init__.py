"""What the page is told only when it asks: likely karts, the kart that readings mean, a lesson."""
