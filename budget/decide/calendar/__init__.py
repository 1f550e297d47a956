"""When each step is done: the calendar of a plan, what to order by when, and what rain does."""
