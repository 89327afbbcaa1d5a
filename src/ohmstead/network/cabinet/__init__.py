"""Where the network and the heat of its cabinets meet: what is given off inside, and the air that comes of it."""
