"""Revisions: a build frozen under a letter, opened again as it was, and what changed from one to another."""
