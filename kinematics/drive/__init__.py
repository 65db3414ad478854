"""A corner as it is driven: what the rear axle does."""
