"""One module a question: gather inputs, call the core, return a frozen answer."""
