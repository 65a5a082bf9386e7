"""Purlwright reads a written hand-knitting pattern, knits it in software stitch by stitch, and proves it.

Nothing runs and nothing heavy is loaded here: `purlwright --help` must start as fast as Python does.
"""

__all__ = ["__version__"]

__version__ = "0.1.0"
