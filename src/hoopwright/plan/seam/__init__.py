"""The seam: settings of the closing weld, trials, qualification, fit-up and assembly welds, as figures and findings."""
