"""Papers of the weld cell: procedure, qualification, lot, operators, assembly welds. Laser and fume cautions on all."""
