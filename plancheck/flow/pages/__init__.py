"""The answers on flow as tables: data first, text last."""
