"""The price of one fixed plan: its lines of money and own hours, to the cent."""
