"""What each line of a sheet is, decided once by the line, its neighbours and the whole sheet."""
