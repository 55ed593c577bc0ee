"""The pictures of the trade, each a pure function from results to a drawing."""
