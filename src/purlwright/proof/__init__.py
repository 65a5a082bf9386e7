"""The checks: what holds, what fails and where, what cannot be decided."""
