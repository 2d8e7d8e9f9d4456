"""The version of shopmate; importing the package imports nothing else."""

__version__ = "0.1.0"
