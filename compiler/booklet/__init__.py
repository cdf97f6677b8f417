"""Steps and figures to a printed booklet: pages as data, fonts, setting of text, and the PDF writer."""
