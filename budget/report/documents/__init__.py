"""What the commands answer as JSON."""
