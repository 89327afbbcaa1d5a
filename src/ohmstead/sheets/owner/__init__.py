"""Words and lists of the pages that stay with the supply: for whoever stands there, without background."""
