"""What stands around a demand: reasons before and behind it, what is only told, how bad it is."""
