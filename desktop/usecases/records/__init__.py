"""What people sign, one verb each, and the people who may."""
