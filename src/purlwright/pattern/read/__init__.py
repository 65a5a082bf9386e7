"""Reading instructions: tokens of a line to steps and statements."""
