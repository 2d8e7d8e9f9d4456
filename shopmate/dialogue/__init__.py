"""What is asked and answered at the bench, written once for the screen and for lines."""
