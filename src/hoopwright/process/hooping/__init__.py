"""Size on real segments: the contoured ring as a hoop of fibres on N segments, through all its hits.

The section (walk) says what each control size does on a round tool; the hoop says what segments, slots, friction, the
seam and an incoming oval add to that. Both effects are added; docs/segments_run.md says how far that is proven.
"""
