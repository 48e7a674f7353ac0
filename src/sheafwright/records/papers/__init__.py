"""The book's facts as the documents take them, in the reader's units."""
