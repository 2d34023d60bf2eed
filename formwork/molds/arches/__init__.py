"""What an arch is laid on."""
