"""Which conversion is this: from what is seen on site to the system that is met."""
