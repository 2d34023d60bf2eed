"""The two files a person writes, read whole: every fault at once, each with its line."""
