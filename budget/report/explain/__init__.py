"""How one line came about, in words."""
