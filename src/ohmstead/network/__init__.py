"""A site as a DC network: compile, solve in every case, faults, start-up, loading margin."""
