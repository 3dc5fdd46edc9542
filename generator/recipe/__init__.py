"""What an author wrote: YAML with places, its shapes, and the reader that finds every mistake."""
