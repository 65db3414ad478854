"""What a scenario file may hold: its tables and keys, the kinds of value behind them, a fault in one line."""
