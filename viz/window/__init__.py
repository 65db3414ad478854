"""The window on the scene."""
