"""What goes in the mixer: densities, foam, batches and pours."""
