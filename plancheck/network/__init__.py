"""The graph of connections and what is traced on it."""
