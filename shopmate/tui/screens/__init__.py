"""The screens, one a file with its stylesheet beside it."""
