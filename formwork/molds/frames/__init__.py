"""Frames of pipe: straight struts and bent lines."""
