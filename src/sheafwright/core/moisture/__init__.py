"""Water in grain and straw: how it is counted, and what damp air leaves in it."""
