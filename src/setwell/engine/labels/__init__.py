"""Labels: nutrition panels, ingredient statements and the rules behind them."""
