"""How sure an answer is: what may come out otherwise, and what that does to the plans."""
