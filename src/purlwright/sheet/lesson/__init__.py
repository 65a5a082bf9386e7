"""The lesson pack of a pattern as a document: stages, moves, captions, practice, exercises, joins and the
class kit.
"""
