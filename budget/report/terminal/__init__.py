"""What the terminal prints: blocks laid out for a window, or plain for a pipe."""
