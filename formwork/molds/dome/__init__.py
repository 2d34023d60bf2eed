"""The form that a dome is cast on: ribs in segments, gores, rings, purlins, doorways, and what the mix does to them."""
