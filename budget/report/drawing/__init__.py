"""Inline drawings as text: charts and measured drawings."""
