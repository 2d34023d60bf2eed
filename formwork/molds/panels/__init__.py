"""Molds of flat panels: the lining round a convex envelope, cores and dividers, rails and corners."""
