"""The kart on disk: scenario files, their validation, and the built-in scenarios."""
