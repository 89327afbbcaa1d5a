"""What has to be bought, counted from the site."""
