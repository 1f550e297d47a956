"""What is found only when asked for: margins, bids like for like, every trade."""
