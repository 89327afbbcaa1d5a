"""What the builder wrote: model, reading with the place of every value, careful writing back."""
