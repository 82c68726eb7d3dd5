"""The reading: a sound and the words of its line go in, a Reading comes out.

Inside this room times are float seconds from the first sample, on a signal of 16 kHz; they leave
it as whole samples of the recording.
"""
