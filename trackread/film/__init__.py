"""The check movie in which a plan of mouths is seen talking before a day is spent on it."""
