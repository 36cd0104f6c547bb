"""A drawing becomes the bytes of a file, is read back, and reaches the disk whole or not at all."""
