"""The wire from valve to controller: pure, its own frozen inputs, standard library only."""
