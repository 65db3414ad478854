"""What the HTML pages share."""
