"""What a plan review commonly wants to see, gathered from a build."""
