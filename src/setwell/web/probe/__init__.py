"""Pages of probe logs: send a file, correct how it reads, type readings in, see what they prove."""
