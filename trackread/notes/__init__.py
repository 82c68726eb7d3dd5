"""Notes: what is told of a shot in tables, what happens in it and where the camera is, becomes cells of its sheet."""
