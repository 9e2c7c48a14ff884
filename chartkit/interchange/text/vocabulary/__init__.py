"""What the words and signs of musicians mean, in many languages; knows no sheet."""
