"""Two versions of one pattern: what differs in meaning, whom it touches, and the corrections to send out."""
