"""Mutation testing: small faults put into a room one by one, and whether its tests see them."""
