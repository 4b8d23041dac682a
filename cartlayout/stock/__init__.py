"""The equipment that can be placed."""
