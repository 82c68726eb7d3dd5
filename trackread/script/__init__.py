"""The script: a screenplay becomes numbered lines, and two drafts of it are compared."""
