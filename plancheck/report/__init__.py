"""Reports: outcomes into frozen data, and the renderers that only read it."""
