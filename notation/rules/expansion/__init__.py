"""Rules of the expansion, a family a file: names, numbers, making, findings, picking, families, units and so on."""
