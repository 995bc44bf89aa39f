"""A short pattern to try reading with: our own, with the slips that patterns have."""

EXAMPLE = """\
BOBBIN THE SNAIL

Gauge: 20 sc and 21 rnds = 10 cm

BODY
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnd 3: (1 sc, inc) x 6 (18)
Rnd 4: (2 sc, inc) x 8 (24)
Rnd 5: (3 sc, inc) x 6 (30)
Rnds 6-10: sc in each st around (30)
Rnd 11: (3 sc, dec) x 6 (25)
Rnd 12: (2 sc, dec) x 6 (18)
Stuff firmly.
Rnd 13: (1 sc, dec) x 6 (12)
Rnd 14: dec x 6 (6)
Fasten off, leave a long tail for sewing.

HORNS (make 2)
Rnd 1: 5 sc in magic ring (5)
Rnd 2: inc x 5 (10)
Rnds 3-6: sc in each st around (10)
Rnd 7: widen the tip like in the drawing (14)
Do not stuff. Fasten off.

Sew the horns to the body between rounds 5 and 8.
"""
