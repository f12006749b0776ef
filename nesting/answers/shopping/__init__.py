"""Everything to buy for a garment: each cloth, all notions, and the cautions."""
