"""Models and constants that calculators and clocks share."""
