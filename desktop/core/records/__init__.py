"""Signed records: what is signed, its one form in bytes, the seal over it, and the chain that all of them make."""
