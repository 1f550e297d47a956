"""The summary page: one HTML file that opens from disk and asks nothing of any network."""
