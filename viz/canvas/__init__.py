"""Scenes on pixels: drawn, filmed, exported."""
