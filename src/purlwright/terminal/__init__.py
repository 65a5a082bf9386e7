"""What a person sees in a terminal: the call as she typed it, and answers laid out as text."""
