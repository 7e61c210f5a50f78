"""Songs with their sound, as engineers made them, and the faults they planted in it."""
