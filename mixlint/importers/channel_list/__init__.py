"""Lists of channels: tables with a row for each channel, as a person keeps them, in text or in a spreadsheet's file."""
