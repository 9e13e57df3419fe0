"""The command. A thin shell around `fedfrom.compile`; the only place that prints, reads the environment or exits."""
