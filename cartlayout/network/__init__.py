"""networkx graphs made from a Build: power, supply water, drain; routes and lengths."""
