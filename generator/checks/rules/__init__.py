"""One fault a file; its page beside it is its test."""
