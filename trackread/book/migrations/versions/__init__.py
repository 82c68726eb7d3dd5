"""One file for each form the tables have had."""
