"""What to buy and where each cut falls: sheets, sticks, and a judge that shares nothing with them."""
