"""A mixed-integer programme, its relaxation, and the searches for its least answer."""
