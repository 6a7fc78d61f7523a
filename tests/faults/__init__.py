"""Faults put into the system calls of every writer, from outside, by strace."""
