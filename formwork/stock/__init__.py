"""What a yard sells: sheets, sticks and hardware, with the sizes they really have."""
