"""Hydraulics: pure, standard library only, with inputs of its own. It knows no record."""
