"""What steps, bids, machines and vehicles cost in one situation."""
