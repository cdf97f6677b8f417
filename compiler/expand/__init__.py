"""Pattern to weave: names, units, ports, families and loops are carried out, statement by statement."""
