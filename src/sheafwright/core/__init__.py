"""The science: arrays in and out; no file, clock, network, log or framework."""
