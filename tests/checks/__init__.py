"""The rules: their pages, their guards, and miswirings met in the trade."""
