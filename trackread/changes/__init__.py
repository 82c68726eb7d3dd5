"""Change control: a sheet that is out beside the sheet as it would be now, row by row and in words."""
