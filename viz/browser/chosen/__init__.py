"""What a visitor has chosen: the choices, their history, the address that holds them, the words for them."""
