"""trackread: hears a recorded take, puts it on film frames and prints the animator's exposure sheet."""

__version__ = "0.6.0"
