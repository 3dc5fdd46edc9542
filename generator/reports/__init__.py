"""What the commands print: findings and states, as text and as JSON."""
