"""Edge forms round an outline: strips straight, bent or kerfed, the blocks that back them, their corners."""
