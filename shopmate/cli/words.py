"""The words of the bench."""

from __future__ import annotations

import csv
import sys
from argparse import Namespace

from shopmate import phrases
from shopmate.written import csv_cell


def run(arguments: Namespace) -> None:
    """Print the words of the bench as CSV, to put them into another language."""
    table = csv.writer(sys.stdout, lineterminator="\n")
    table.writerow(("place", "text", "own"))
    table.writerows((place, csv_cell(text), "") for text, place in phrases.english().items())
