"""Company wiring handbook: recipes proved safe in every state, published as pages."""
