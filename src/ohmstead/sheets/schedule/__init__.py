"""What each fuse feeds, what flows through it, and what goes dark without it."""
