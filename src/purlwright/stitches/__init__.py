"""The stitch dictionary: what every abbreviation means, as data.

Ask ``load.dictionary()`` for stitches, ``load.grounds()`` for fabrics by name.
Importing this loads nothing.
"""
