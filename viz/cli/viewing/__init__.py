"""How `lockarc view` and its kin show the kart: to a file, standing, in the browser."""
