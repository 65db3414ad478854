"""The kart as a scene of plain data: bodies, places, words, cameras."""
