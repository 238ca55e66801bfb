"""Pages about texture agents: the chart and one page each."""
