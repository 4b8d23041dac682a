"""Tables of limits: connectors, cords, tubes, profiles of regions. Data, never literals."""
