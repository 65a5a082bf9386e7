"""The stitch dictionary: what every abbreviation means, as data.

Ask ``load.dictionary()`` for stitches and ``load.grounds()`` for fabrics by name; importing this loads nothing.
"""
