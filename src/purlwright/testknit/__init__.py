"""Test knits: what a knitter is asked to count, measure and time, and what her answers say of the pattern."""
