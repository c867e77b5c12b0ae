"""What people do with work orders, one verb each."""
