"""The desk and the floor: pages for a browser, and the server that they come from. Nothing is fetched from elsewhere."""
