"""Every choice of a job as columns and rows of one programme."""
