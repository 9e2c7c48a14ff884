"""The text as it arrived: encodings, mails, chats, empty lines, and signs of the sheet's own."""
