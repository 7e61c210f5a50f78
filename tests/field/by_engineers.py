"""Rules whose mistakes are planted by engineers in these sessions, and not by the proof by mutation."""

BY_ENGINEERS = frozenset(
    {
        "announced-solo-is-there",
        "clip-lies-once",
        "clip-where-it-was",
        "clips-cut-together-play-together",
        "compressor-leaves-the-part",
        "delays-in-line",
        "ducker-keyed-right",
        "edges-faded-as-elsewhere",
        "endings-ring-out",
        "fade-out-reaches-silence",
        "fader-with-the-others",
        "groups-centred",
        "kit-begins-together",
        "line-taken-again-stands-alone",
        "move-takes-its-usual-time",
        "no-hole-at-the-cut",
        "no-job-left",
        "no-stretch-sunk",
        "nothing-behind-the-ceiling",
        "one-clip-of-a-pair-in-time",
        "pair-sent-alike",
        "parallel-bus-follows-fader",
        "parallel-bus-under-its-source",
        "part-with-the-band",
        "polarity-as-noted",
        "pre-delay-no-echo",
        "prints-run-to-one-end",
        "recording-where-it-was",
        "rides-of-a-pair-agree",
        "send-in-its-range",
        "send-left-off",
        "sends-in-line",
        "sent-to-its-own-return",
        "stays-on-its-side",
        "switch-turns-each-time",
        "takes-change-together",
        "tempo-change-is-followed",
        "tempo-fits-markers",
        "tempo-fits-names",
        "throw-is-closed",
    }
)

IN_EXAMPLES_ONLY = frozenset({"direct-with-its-microphone", "eq-move-in-bounds", "soloist-opens"})
"""Rules that neither proof provokes: nothing but their own examples shows them at work."""
