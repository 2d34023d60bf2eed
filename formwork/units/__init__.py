"""What a person types becomes SI floats here, and SI floats become what a person reads."""
