"""The desk and the floor: pages for a browser, and the server that they come from. All is our own."""
