"""The written pattern: file to header, sections and lines, lines to trees, and trees back to words."""
