"""What people do with the program, one verb each."""
