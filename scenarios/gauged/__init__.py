"""What gauges, plates and scales have said of a kart: readings in a file, and the kart that they mean."""
