"""A draft of the label: ingredients under both customs, names due, weight, batch code; what is left open."""
