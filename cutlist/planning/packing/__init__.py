"""The first layouts of each group: on whole sheets, on blanks, of a part of the panels."""
